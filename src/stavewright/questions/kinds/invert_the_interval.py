"""The inversion of an interval. Training: papers do not ask it unless the teacher says so."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.interval_pairs import anywhere
from stavewright.questions.showing.two_notes import notes_block, two_notes
from stavewright.questions.solving.intervals import (
    interval_answers,
    interval_neighbours,
    lower_first,
    nearest,
    semitones_text,
    split_name,
)
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import Interval, between
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose

METHODS = ("usual", "by moving the note")
_TRIES = 20
_WIDEST = 8


class InvertTheInterval(Facts, frozen=True, forbid_unknown_fields=True):
    """Two notes as they sound, under a clef; they are printed together.

    Raises:
        BadDocument: they are further apart than an octave, or on one line or space.
    """

    clef: ClefName
    first: PitchText
    second: PitchText

    def __post_init__(self) -> None:
        away = abs(Pitch.parse(self.first).diatonic - Pitch.parse(self.second).diatonic)
        if not 1 <= away < _WIDEST:
            raise BadDocument(f"{self.first} and {self.second} cannot be turned: give a 2nd to an octave")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        found = anywhere(scope, rng)
        if found is None:
            return None
        clef, interval, low = found
        if 2 <= interval.number < _WIDEST or interval.short == "P8":
            high = transpose(low, interval)
            turned = between(low.shifted(1), high)
            return Draft(InvertTheInterval(clef, low.short, high.short), turned.text)
    return None


def _pose(facts: InvertTheInterval, wording: Wording) -> Posed:
    score = two_notes(facts.clef, *_notes(facts), together=True)
    moved = "The lower note of this interval is moved up an octave."
    if wording.choosing:
        return Posed((TextBlock(f"{moved} Which interval does it turn into?"), notes_block(score)))
    ask = f"{moved} Name the interval it turns into: give its number and its quality."
    return Posed((TextBlock(ask), notes_block(score)), WordsForm("phrase"))


def _notes(facts: InvertTheInterval) -> tuple[Pitch, Pitch]:
    return lower_first(Pitch.parse(facts.first), Pitch.parse(facts.second))


def _turned(facts: InvertTheInterval) -> tuple[Pitch, Pitch]:
    """The two notes when the lower one has moved up an octave."""
    low, high = _notes(facts)
    return lower_first(high, low.shifted(1))


def _solve(facts: InvertTheInterval) -> tuple[Answer, ...]:
    return interval_answers(*_turned(facts))


def _slips(facts: InvertTheInterval) -> tuple[Slip, ...]:
    shown = between(*_notes(facts))
    right = between(*_turned(facts))
    found: list[Slip] = []

    def add(name: str, wrong: Interval | None, remedy: str) -> None:
        if wrong is not None:
            found.append(slip(name, Value(words=wrong.text), wrong.text, remedy))

    add("sums to 8", nearest(right.quality, right.number - 1), "An interval and its inversion make 9, not 8.")
    kept = "Major turns into minor, augmented into diminished, and the other way round; only perfect stays."
    add("quality kept", nearest(shown.quality, right.number), kept)
    add("number kept", nearest(right.quality, shown.number), "Take the number away from 9.")
    add("named as it stands", shown, "That is the interval you see. Now turn it: the lower note goes on top.")
    wide = Interval(shown.quality, shown.number + 7)
    add("upper note moved up as well", wide, "Only one note moves, and it moves past the other one.")
    return tuple(found)


def _work(facts: InvertTheInterval, method: str) -> tuple[Step, ...]:
    low, high = _notes(facts)
    bottom, top = _turned(facts)
    shown, right = between(low, high), between(bottom, top)
    first = Step(f"From {low.name.text} up to {high.name.text} is {_an(shown.text)}.", ("n1",), shown.short)
    if method == "by moving the note":
        return (
            first,
            Step(f"Move {low.name.text} up an octave: now {bottom.name.text} is the lower note.", ("n1",), ""),
            Step(f"From {bottom.name.text} up to {top.name.text} is {_an(right.text)}.", (), right.short),
            Step(f"Check: {shown.number} and {right.number} make 9.", (), f"{shown.number} + {right.number} = 9"),
        )
    quality = "Perfect stays perfect" if shown.quality == "P" else _swap(shown, right)
    return (
        first,
        Step(
            f"The two numbers make 9: 9 less {shown.number} is {right.number}.",
            (),
            f"9 - {shown.number} = {right.number}",
        ),
        Step(f"{quality}: {_an(right.text)}.", (), right.short),
        Step(
            f"Check: move {low.name.text} above {high.name.text} and count {semitones_text(right.semitones)}.",
            ("n1",),
            str(right.semitones),
        ),
    )


def _swap(shown: Interval, right: Interval) -> str:
    return f"{shown.quality_text.capitalize()} turns into {right.quality_text}"


def _an(words: str) -> str:
    return f"{'an' if words[0] in 'ao' else 'a'} {words}"


def _neighbours(facts: InvertTheInterval) -> tuple[Value, ...]:
    return interval_neighbours(*_turned(facts))


def _difficulty(facts: InvertTheInterval) -> float:
    """Augmented and diminished intervals, signs and the C clefs make it harder (common practice)."""
    low, high = _notes(facts)
    altered = between(low, high).quality[0] in "Ad"
    return -0.4 + 0.6 * altered + 0.15 * (abs(low.alter) + abs(high.alter)) + 0.2 * (facts.clef in ("alto", "tenor"))


KIND = Kind(
    id="invert-the-interval",
    topic="intervals",
    since=4,
    title="Invert the interval",
    facts=InvertTheInterval,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"invert-the-interval/{between(*_notes(facts)).short}",
    pool=lambda scope: None,
    seconds=30,
    marking=Marking("gated", split=split_name),
    marks=2,
    neighbours=_neighbours,
    methods=METHODS,
)
