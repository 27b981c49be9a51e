"""Write four voices out from short score into open score, or the other way."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Block, ScoreForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.choir_passages import choir_passage
from stavewright.questions.showing.extract import credit_block
from stavewright.questions.showing.filled import filled
from stavewright.questions.showing.spoken_chords import spoken_chords
from stavewright.questions.solving.score_layouts import STEMS, USUAL, Habits, Part, laid_out, moved, parts_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.errors import StavewrightError
from stavewright.theory.voice import SATB

_TRIES = 10
_ALL_WRONG = 100
_TENOR = SATB.index("tenor")
# Letters from the tenor's lines in the bass clef up to the same lines in the treble clef.
_CLEFS_APART = 12


class ShortAndOpenScore(Facts, frozen=True, forbid_unknown_fields=True):
    """A passage for soprano, alto, tenor and bass as it is printed, and the layout it is to be written in.

    Raises:
        BadDocument: the passage is not of the other layout.
    """

    passage: ScoreDocument
    to: Annotated[str, Meta(pattern=r"^(open|short)\Z", max_length=5)]
    credit: Line = ""

    def __post_init__(self) -> None:
        if len(self.passage.staves) != {"open": 2, "short": 4}[self.to]:
            raise BadDocument(f"a passage of {len(self.passage.staves)} staves cannot be written in {self.to} score")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    to = rng.choice(("open", "short"))
    for _ in range(_TRIES):
        made = choir_passage(scope, rng, to, melodies)
        if made is not None:
            return Draft(ShortAndOpenScore(made.passage, to, made.credit), made.meant)
    return None


def _score(facts: ShortAndOpenScore) -> Score:
    return score_of(facts.passage)


def _fifths(facts: ShortAndOpenScore) -> int:
    return _score(facts).staves[0].fifths or 0


def _written(facts: ShortAndOpenScore, habits: Habits = USUAL, parts: tuple[Part, ...] = ()) -> Score:
    score = _score(facts)
    return laid_out(parts or parts_of(score), facts.to, score, habits)


@lru_cache(maxsize=64)
def _right(facts: ShortAndOpenScore) -> Score:
    """The right layout, kept: many answers to one question are held against it."""
    return _written(facts)


def _value(score: Score) -> Value:
    return Value(score=document_of(score))


def _text(score: Score) -> str:
    said = []
    for name, row in zip(SATB, _rows(score), strict=True):
        notes = ", ".join(f"{note.pitch.name.text} {note.pitch.octave}" for note in row)
        said.append(f"{name} {notes}")
    return "; ".join(said)


def _rows(score: Score) -> list[list[Note]]:
    """The notes of every voice as they are written, from the top."""
    return [
        [event for bar in stave.bars for event in bar.voices[voice] if isinstance(event, Note)]
        for stave in score.staves
        for voice in range(len(stave.bars[0].voices))
    ]


def _empty(facts: ShortAndOpenScore) -> Score:
    """The staves of the other layout, with room for every note."""
    made = _written(facts)
    staves = tuple(
        replace(
            stave,
            bars=tuple(
                replace(bar, voices=tuple(tuple(Gap(e.duration, e.id) for e in voice) for voice in bar.voices))
                for bar in stave.bars
            ),
        )
        for stave in made.staves
    )
    return replace(made, staves=staves)


def _pose(facts: ShortAndOpenScore, wording: Wording) -> Posed:
    picture = StaveBlock(facts.passage, wording.say(spoken_chords(_score(facts))))
    shown: tuple[Block, ...] = (picture, *credit_block(facts.credit))
    if facts.to == "open":
        what = "This passage is in short score, two voices on each stave."
        ask = (
            "Write it out in open score, one voice on each stave. The tenor is written in the treble clef, an octave "
            "higher than it sounds."
        )
        which = "Which answer is the same passage in open score? The tenor is written an octave higher than it sounds."
    else:
        what = "This passage is in open score; the tenor sounds an octave lower than it is written."
        ask = (
            "Write it in short score on two staves, each voice at the pitch it sounds, with stems that tell the voices "
            "apart."
        )
        which = "Which answer is the same passage in short score?"
    if wording.choosing:
        return Posed((TextBlock(wording.say(f"{what} {which}")), *shown))
    return Posed((TextBlock(wording.say(f"{what} {ask}")), *shown), ScoreForm(document_of(_empty(facts))))


def _solve(facts: ShortAndOpenScore) -> tuple[Answer, ...]:
    made = _written(facts)
    if facts.to == "open":
        why = "Each voice has its own stave; the tenor, in the treble clef, stands an octave higher than it sounds."
    else:
        why = "Soprano and tenor have their stems up, alto and bass down; the tenor stands where it sounds."
    return (answer(_value(made), _text(made), why),)


def _slips(facts: ShortAndOpenScore) -> tuple[Slip, ...]:
    parts = parts_of(_score(facts))
    opening = facts.to == "open"
    found: list[Slip] = []

    def add(name: str, made: Score, remedy: str, *, steady: bool = True) -> None:
        found.append(slip(name, _value(made), _text(made), remedy, steady=steady))

    where = "an octave higher than it sounds" if opening else "where it sounds: an octave lower than in its own part"
    wrong = Habits(tenor_up=0) if opening else Habits(tenor_up=2)
    add("tenor at the wrong octave", _written(facts, wrong), f"Write the tenor {where}.")
    hint = "Short score has soprano and alto above, tenor and bass below: follow each voice by its stem."
    add("alto and tenor changed over", _written(facts, Habits(order=(0, 2, 1, 3))), hint)
    if opening:
        lines = (*parts[:_TENOR], moved(parts[_TENOR], _CLEFS_APART - 7, _fifths(facts)), parts[3])
        hint = "The tenor changes clef: name each note, then find it in the treble clef."
        add("tenor kept on its lines", _written(facts, parts=lines), hint)
    else:
        turned = ("down", "up", "down", "up")
        hint = "Stems up for soprano and tenor, down for alto and bass."
        add("stems the wrong way", _written(facts, Habits(stems=turned)), hint)
        add("all stems up", _written(facts, Habits(stems=("up",) * 4)), hint)
    return tuple(found)


def _neighbours(facts: ShortAndOpenScore) -> tuple[Value, ...]:
    """The right layout with one note of the alto or of the bass a step off."""
    parts = parts_of(_score(facts))
    near = []
    for place, by in ((1, 1), (3, -1)):
        (first, *others), *rest = parts[place]
        step = moved(((first,),), by, _fifths(facts))[0]
        near.append((*parts[:place], ((*step, *others), *rest), *parts[place + 1 :]))
    return tuple(_value(_written(facts, parts=one)) for one in near)


def _work(facts: ShortAndOpenScore, method: str) -> tuple[Step, ...]:
    old, new = _rows(_score(facts)), _rows(_written(facts))
    tenor, wrote = old[_TENOR][0], new[_TENOR][0]
    ids = [tuple(note.id for note in row if note.id) for row in old]
    name = tenor.pitch.name.text
    move = f"its first note, {name} {tenor.pitch.octave} in print, becomes {wrote.pitch.name.text} {wrote.pitch.octave}"
    if facts.to == "open":
        return (
            Step("Stems up on the upper stave are the soprano: copy it onto the first stave.", ids[0], "S"),
            Step("Stems down on the upper stave are the alto: copy it onto the second stave.", ids[1], "A"),
            Step(f"Stems up on the lower stave are the tenor. Write it in the treble clef: {move}.", ids[2], "T 8"),
            Step("Stems down on the lower stave are the bass: copy it onto the last stave.", ids[3], "B"),
            Step("Check: does each stave have its own signs? A sign on a shared stave held for both voices."),
        )
    return (
        Step("Soprano and alto go on the treble stave, stems up for the soprano, down for the alto.", ids[0], "S up"),
        Step("The bass goes on the bass stave, stems down.", ids[3], "B down"),
        Step(f"The tenor sounds an octave lower than its part: {move}, stem up on the bass stave.", ids[2], "T up"),
        Step("Check: do the notes of each chord stand one above the other, and does no sign stand twice in vain?"),
    )


def _draw(facts: ShortAndOpenScore, value: Value) -> Score:
    return _empty(facts) if value.score is None else score_of(value.score)


def _faults(facts: ShortAndOpenScore, value: Value) -> int | None:
    """Every wrong, missing or extra note; in short score a voice with any stem the wrong way is one more.

    A semibreve has no stem.
    """
    if value.score is None:
        return None
    right = _right(facts)
    try:
        made = filled(score_of(value.score), ())
    except StavewrightError:
        return _ALL_WRONG
    wanted, given = _rows(right), _rows(made)
    if len(made.staves) != len(right.staves) or len(given) != len(wanted):
        return _ALL_WRONG
    count = 0
    for place, (got, want) in enumerate(zip(given, wanted, strict=True)):
        wrong = sum((a.pitch, a.duration) != (b.pitch, b.duration) for a, b in zip(got, want, strict=False))
        count += wrong + abs(len(got) - len(want))
        stems = {note.stem for note in got if note.duration.type not in ("breve", "semibreve")}
        count += facts.to == "short" and bool(stems - {STEMS[place]})
    return count


def _difficulty(facts: ShortAndOpenScore) -> float:
    """More notes, more signs, and reading four staves into two make it harder (common practice)."""
    score = _score(facts)
    notes = sum(len(row) for row in _rows(score))
    return -0.2 + 0.2 * (facts.to == "short") + 0.02 * notes + 0.05 * abs(_fifths(facts))


KIND = Kind(
    id="short-and-open-score",
    topic="transposition",
    since=5,
    title="Short score and open score",
    facts=ShortAndOpenScore,
    forms={"written": "score", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"short-and-open-score/{facts.to}",
    pool=lambda scope: None,
    seconds=180,
    marking=Marking("minus-one-per-fault"),
    marks=4,
    draw=_draw,
    faults=_faults,
    neighbours=_neighbours,
)
