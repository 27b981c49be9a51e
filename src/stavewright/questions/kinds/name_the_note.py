"""Name a note: its letter and accidental, read from its place on the stave under its clef."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import document_of
from stavewright.questions.setting.picking import pick_clef, pick_pitch, place_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

_SIGNS = {1: "sharp", -1: "flat", 0: "natural", 2: "double-sharp", -2: "flat-flat"}
_ALTERS = {sign: alter for alter, sign in _SIGNS.items()}
# Landmark lines: the line each clef names. Source: Gehrkens, Music Notation and Terminology (1914) §15-17.
_LANDMARKS = {"treble": ("G", 2, "second"), "bass": ("F", 6, "fourth"), "alto": ("C", 4, "middle"), "tenor": ("C", 6, "fourth")}


class NameTheNote(Facts, frozen=True, forbid_unknown_fields=True):
    """A note as it is written: clef, place (0 is the bottom line, 1 the space above it), printed sign."""

    clef: str
    place: int
    accidental: str | None = None


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick_clef(scope, rng)
    pitch = pick_pitch(scope, rng, clef)
    sign = _SIGNS[pitch.alter] if pitch.alter or rng.random() < 0.2 else None
    return Draft(NameTheNote(clef, place_of(pitch, clef), sign), pitch.name.text)


def _pitch(facts: NameTheNote, clef: str | None = None, shift: int = 0, *, sign: bool = True) -> Pitch:
    alter = _ALTERS[facts.accidental] if facts.accidental and sign else 0
    return CLEFS[clef or facts.clef].pitch_at(facts.place + shift, alter)


def _pose(facts: NameTheNote, wording: Wording) -> Posed:
    note = Note(_pitch(facts), Duration("semibreve"), id="n1", accidental=facts.accidental)
    shown = StaveBlock(document_of(single(facts.clef, (note,))), wording.say(f"One note on a stave with the {facts.clef} clef."))
    ask = "Which note is this?" if wording.choosing else "Name this note."
    return Posed((TextBlock(ask), shown), None if wording.choosing else WordsForm("word"))


def _solve(facts: NameTheNote) -> tuple[Answer, ...]:
    name = _pitch(facts).name.text
    sign = f" and the {facts.accidental.replace('flat-flat', 'double flat').replace('-', ' ')} sign" if facts.accidental else ""
    return (answer(Value(words=name), name, f"The place under the {facts.clef} clef{sign} gives {name}."),)


def _slips(facts: NameTheNote) -> tuple[Slip, ...]:
    found: list[Slip] = []
    for other in CLEFS:
        if other != facts.clef:
            name = _pitch(facts, other).name.text
            found.append(
                slip(
                    f"read in the {other} clef",
                    Value(words=name),
                    name,
                    f"This is the {facts.clef} clef: find its landmark line first, then count from there.",
                    steady=True,
                )
            )
    for shift in (-1, 1):
        name = _pitch(facts, shift=shift).name.text
        found.append(slip("one place out", Value(words=name), name, "Count lines and spaces one at a time from the landmark."))
    if facts.accidental not in (None, "natural"):
        name = _pitch(facts, sign=False).name.text
        found.append(slip("sign left out", Value(words=name), name, "The sign before the note is part of its name."))
    return tuple(found)


def _work(facts: NameTheNote, method: str) -> tuple[Step, ...]:
    letter, line, which = _LANDMARKS[facts.clef]
    away = facts.place - line
    walk = CLEFS[facts.clef].pitch_at(facts.place).step
    steps = [Step(f"The {facts.clef} clef makes its {which} line {letter}.", (), letter)]
    if away:
        places = "place" if abs(away) == 1 else "places"
        steps.append(Step(f"The note is {abs(away)} {places} {'above' if away > 0 else 'below'} that line: {walk}.", ("n1",), walk))
    else:
        steps.append(Step(f"The note is on that line: {walk}.", ("n1",), walk))
    name = _pitch(facts).name.text
    if facts.accidental:
        steps.append(Step(f"Add the sign before it: {name}.", ("n1",), ""))
    steps.append(Step("Check: say the letters from the landmark once more, one for each line and space.", (), ""))
    return tuple(steps)


def _neighbours(facts: NameTheNote) -> tuple[Value, ...]:
    near = [_pitch(facts, shift=shift).name.text for shift in (-3, -2, 2, 3)]
    return tuple(Value(words=name) for name in near)


def _ledgers(facts: NameTheNote) -> int:
    return max(0, -facts.place // 2, (facts.place - 8) // 2)


def _difficulty(facts: NameTheNote) -> float:
    clef = {"treble": -0.6, "bass": -0.3, "alto": 0.2, "tenor": 0.4}[facts.clef]
    return -1.0 + clef + 0.4 * _ledgers(facts) + (0.2 if facts.accidental else 0.0)


def _pool(scope: Scope) -> int:
    total = 0
    for clef in scope.clefs:
        low, high = scope.range_of(clef)
        total += (high.diatonic - low.diatonic + 1) * (1 + len(scope.alters))
    return total


KIND = Kind(
    id="name-the-note",
    topic="notes",
    since=1,
    title="Name the note",
    facts=NameTheNote,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"name-the-note/{facts.clef}/{'ledger' if _ledgers(facts) else 'stave'}",
    pool=_pool,
    seconds=12,
    neighbours=_neighbours,
)
