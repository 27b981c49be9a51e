"""Name the chords under brackets in a passage for piano or choir, passing notes and all."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.composing.errors import CannotCompose
from stavewright.composing.four_part import cadence_labels
from stavewright.composing.texture import TEXTURES, TIMES, textured
from stavewright.questions.chord_reading import read_label
from stavewright.questions.documents import Answer, Block, ChordsForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import BracketDocument, Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.chorales import chorale_chords
from stavewright.questions.setting.picking import fits, pick_key
from stavewright.questions.showing.extract import credit_block
from stavewright.questions.showing.spoken_chords import spoken_chords
from stavewright.questions.solving.chords import mislabelled
from stavewright.questions.solving.textures import Heard, Reading, counting_strays, read_bracket, under, with_seventh
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

_TRIES = 10
_BRACKETS = 2
_PARTS = ("root", "third", "fifth", "seventh")
Numeral = Annotated[str, Meta(pattern=r"^(I|II|III|IV|V|VI|VII)\Z", max_length=3)]


class ChordInTexture(Facts, frozen=True, forbid_unknown_fields=True):
    """A passage with lettered brackets, its key, and the chords that may be asked.

    Raises:
        BadDocument: no bracket, or more than four.
    """

    passage: ScoreDocument
    key: KeyText
    numerals: Annotated[tuple[Numeral, ...], Meta(min_length=2, max_length=7)] = ("I", "II", "IV", "V")
    credit: Line = ""

    def __post_init__(self) -> None:
        if not 1 <= len(self.passage.brackets) <= 4:
            raise BadDocument(f"the passage has {len(self.passage.brackets)} brackets: draw one to four")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    numerals = tuple(numeral for numeral in ROMANS if numeral in scope.triads)
    if not scope.inversions or not scope.cadences:
        return None
    real = chorale_chords(scope, rng, melodies, numerals)
    if real is not None:
        facts = ChordInTexture(real.passage, real.key.text, numerals, real.credit)
        return Draft(facts, Value(chords=tuple(label.text for label in real.labels)))
    for _ in range(_TRIES):
        key = pick_key(scope, rng)
        if key is None:
            return None
        name = rng.choice([one for one in scope.cadences if one != "interrupted"])
        labels = cadence_labels(name, rng, sevenths=False)
        if any(label.numeral not in numerals for label in labels):
            continue
        try:
            made = textured(key, labels, rng, texture=rng.choice(TEXTURES), time=rng.choice(TIMES))
        except CannotCompose:
            continue
        if not _in_scope(made.score, scope):
            continue
        chosen = sorted(rng.sample(range(len(made.spans)), _BRACKETS))
        brackets = tuple(BracketDocument(*made.spans[at], letter) for at, letter in zip(chosen, "AB", strict=True))
        plain = document_of(made.score)
        passage = ScoreDocument(plain.staves, plain.join, brackets)
        meant = tuple(labels[at].text for at in chosen)
        return Draft(ChordInTexture(passage, key.text, numerals), Value(chords=meant))
    return None


def _in_scope(score: Score, scope: Scope) -> bool:
    for stave in score.staves:
        pitches = [pitch for bar in stave.bars for voice in bar.voices for event in voice for pitch in _of(event)]
        if not fits(pitches, scope, stave.clef) or any(p.alter and p.alter not in scope.alters for p in pitches):
            return False
    return True


def _of(event: object) -> tuple[Pitch, ...]:
    return getattr(event, "pitches", ())


def _letters(facts: ChordInTexture) -> list[str]:
    return [bracket.label for bracket in facts.passage.brackets]


def _pose(facts: ChordInTexture, wording: Wording) -> Posed:
    letters = " and ".join(_letters(facts))
    many = len(facts.passage.brackets) > 1
    chords = f"{', '.join(facts.numerals[:-1])} or {facts.numerals[-1]}"
    picture = StaveBlock(facts.passage, wording.say(spoken_chords(score_of(facts.passage))))
    shown: tuple[Block, ...] = (picture, *credit_block(facts.credit))
    head = f"The key is {facts.key}."
    if wording.choosing:
        which = (
            f"Which chords are under the brackets {letters}" if many else f"Which chord is under the bracket {letters}"
        )
        ask = f"{head} {which}? (b: first inversion, c: second inversion, no letter: root position.)"
        return Posed((TextBlock(wording.say(ask)), *shown))
    one = (
        f"Name the chord under each of the brackets {letters}"
        if many
        else f"Name the chord under the bracket {letters}"
    )
    ask = f"{head} {one}: {chords}, with b for first inversion and c for second inversion (or figures)."
    return Posed((TextBlock(wording.say(ask)), *shown), ChordsForm(len(facts.passage.brackets)))


def _under(facts: ChordInTexture) -> list[tuple[Heard, ...]]:
    score = score_of(facts.passage)
    return [under(score, bracket) for bracket in score.brackets]


def _readings(facts: ChordInTexture) -> list[Reading]:
    key = Key.parse(facts.key)
    return [read_bracket(heard, key, facts.numerals) for heard in _under(facts)]


def _value(labels: list[ChordLabel]) -> Value:
    return Value(chords=tuple(label.text for label in labels))


def _text(labels: list[ChordLabel]) -> str:
    return ", ".join(label.text for label in labels)


def _because(reading: Reading, letter: str, key: Key) -> str:
    names = chord_notes(key, ChordLabel(reading.label.degree))
    notes = ", ".join(name.text for name in names)
    low = f"its {_PARTS[reading.label.inversion]}, {names[reading.label.inversion].text}, is lowest"
    strays = " and ".join(dict.fromkeys(one.pitch.name.text for one in reading.strays))
    passing = f"; {strays} only passes by" if strays else ""
    return f"{letter}: the notes {notes} make chord {reading.label.numeral}, {low}{passing}."


def _solve(facts: ChordInTexture) -> tuple[Answer, ...]:
    key, readings = Key.parse(facts.key), _readings(facts)
    labels = [reading.label for reading in readings]
    why = " ".join(_because(reading, letter, key) for reading, letter in zip(readings, _letters(facts), strict=True))
    found = [answer(_value(labels), _text(labels), why)]
    for at, reading in enumerate(readings):
        seventh = with_seventh(reading, key)
        if seventh is not None:
            also = [*labels[:at], seventh, *labels[at + 1 :]]
            hint = f"{why} Its 7th passes by, so {seventh.text} is accepted for {reading.label.text}."
            found.append(answer(_value(also), _text(also), hint))
    return tuple(found)


def _slips(facts: ChordInTexture) -> tuple[Slip, ...]:
    key, readings = Key.parse(facts.key), _readings(facts)
    labels = [reading.label for reading in readings]
    found: list[Slip] = []

    def add(name: str, at: int, wrong: ChordLabel, remedy: str, *, steady: bool = False) -> None:
        row = [*labels[:at], wrong, *labels[at + 1 :]]
        found.append(slip(name, _value(row), _text(row), remedy, steady=steady))

    for at, (reading, heard) in enumerate(zip(readings, _under(facts), strict=True)):
        counted = counting_strays(reading, heard, key)
        if counted is not None:
            strays = " and ".join(dict.fromkeys(one.pitch.name.text for one in reading.strays))
            hint = f"{strays} moves by step between two notes: leave it out and read the notes that stay."
            add("passing note counted as a chord note", at, counted, hint)
        for one in mislabelled([heard.pitch for heard in reading.chord], key, inversions=True):
            add(one.name, at, one.label, one.remedy, steady=one.steady)
    every = _every(readings, lambda reading: ChordLabel(reading.label.degree))
    found.append(
        slip("position not read", _value(every), _text(every), "Look at the lowest note of each chord as well.")
    )
    return tuple(found)


def _every(readings: list[Reading], rule: Callable[[Reading], ChordLabel]) -> list[ChordLabel]:
    return [rule(reading) for reading in readings]


def _neighbours(facts: ChordInTexture) -> tuple[Value, ...]:
    """The first chord in other positions, and other chords in its place."""
    first, *rest = [reading.label for reading in _readings(facts)]
    near = [ChordLabel(first.degree, inversion) for inversion in range(3)]
    near += [ChordLabel(ROMANS.index(numeral) + 1, first.inversion) for numeral in facts.numerals]
    return tuple(_value([one, *rest]) for one in near if one != first)


def _work(facts: ChordInTexture, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    steps: list[Step] = []
    for reading, letter in zip(_readings(facts), _letters(facts), strict=True):
        ids = tuple(dict.fromkeys(one.id for one in reading.chord if one.id))
        steps.append(Step(_because(reading, letter, key), ids, reading.label.text))
    strays = [one for reading in _readings(facts) for one in reading.strays]
    if strays:
        said = "Cross out the notes that only move by step between two chord notes, then collect the rest, both staves."
    else:
        said = "No note only passes by here: collect all the notes under each bracket, from both staves."
    steps.insert(0, Step(said, tuple(dict.fromkeys(one.id for one in strays if one.id)), ""))
    steps.append(Step("Check: the lowest note of all under the bracket, not the first you see, tells the position."))
    return tuple(steps)


def _faults(facts: ChordInTexture, value: Value) -> int | None:
    """Two for a wrong chord, one for a right chord in the wrong position, two for one too many or too few."""
    if value.chords is None:
        return None
    best = 100
    for right in _solve(facts):
        wanted = right.value[0].chords or ()
        count = 2 * abs(len(wanted) - len(value.chords))
        for got, want in zip(value.chords, wanted, strict=False):
            one, other = read_label(got), read_label(want)
            if one != other:
                count += 1 if one.rstrip("abcd7") == other.rstrip("abcd7") else 2
        best = min(best, count)
    return best


def _difficulty(facts: ChordInTexture) -> float:
    """Inversions, chord II, passing notes, minor and more signs make it harder (common practice)."""
    key, readings = Key.parse(facts.key), _readings(facts)
    return (
        -0.1
        + 0.25 * sum(bool(reading.label.inversion) for reading in readings)
        + 0.15 * any(reading.label.degree == 2 for reading in readings)
        + 0.2 * any(reading.strays for reading in readings)
        + 0.2 * key.is_minor
        + 0.06 * abs(key.fifths)
    )


KIND = Kind(
    id="chord-in-texture",
    topic="chords",
    since=5,
    title="Chords in a passage",
    facts=ChordInTexture,
    forms={"written": "chords", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"chord-in-texture/{facts.passage.join} {Key.parse(facts.key).mode}",
    pool=lambda scope: None,
    seconds=90,
    marking=Marking("minus-one-per-fault"),
    marks=4,
    faults=_faults,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)
