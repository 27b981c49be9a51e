"""Name a note: its letter and accidental, read from its place on the stave under its clef."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_pitch, place_of
from stavewright.questions.showing.describing import with_sign
from stavewright.questions.solving.landmarks import reading
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Sign, StavePlace
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_alter, sign_name, sign_text
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

# The clefs a pupil mixes up with each: the two common ones with each other, the C clefs with all.
_MIXED_UP = {
    "treble": ("bass",),
    "bass": ("treble",),
    "alto": ("treble", "tenor", "bass"),
    "tenor": ("alto", "treble", "bass"),
}
_MIDDLE_C = Pitch("C", 0, 4)
_NATURAL_SHARE = 0.2
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})


class NameTheNote(Facts, frozen=True, forbid_unknown_fields=True):
    """A note as it is written: clef, place (0 is the bottom line, 1 the space above it), printed sign."""

    clef: ClefName
    place: StavePlace
    accidental: Sign | None = None


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick_clef(scope, rng)
    pitch = pick_pitch(scope, rng, clef)
    sign = sign_name(pitch.alter) if pitch.alter or rng.random() < _NATURAL_SHARE else None
    return Draft(NameTheNote(clef, place_of(pitch, clef), sign), pitch.name.text)


def _pitch(facts: NameTheNote, clef: str = "", shift: int = 0, *, alter: int | None = None) -> Pitch:
    if alter is None:
        alter = sign_alter(facts.accidental) if facts.accidental else 0
    return CLEFS[clef or facts.clef].pitch_at(facts.place + shift, alter)


def _pose(facts: NameTheNote, wording: Wording) -> Posed:
    note = Note(_pitch(facts), Duration("semibreve"), id="n1", accidental=facts.accidental)
    alt = f"A stave with the {facts.clef} clef and one note, {with_sign(facts.place, facts.accidental)}."
    shown = StaveBlock(document_of(single(facts.clef, (note,))), wording.say(alt))
    ask = "Which note is this?" if wording.choosing else "Name this note. If there is a sign before it, name that too."
    return Posed((TextBlock(ask), shown), None if wording.choosing else WordsForm("word"))


def _solve(facts: NameTheNote) -> tuple[Answer, ...]:
    name = _pitch(facts).name
    sign = f", and the {sign_text(facts.accidental)} before it counts" if facts.accidental else ""
    found = [answer(Value(words=name.text), name.text, f"The {facts.clef} clef makes this place {name.step}{sign}.")]
    if not name.alter:
        full = f"{name.step} natural"
        found.append(answer(Value(words=full), full, f"{full} is the full name of {name.step}."))
    if _pitch(facts) == _MIDDLE_C:
        found.append(answer(Value(words="middle C"), "middle C", "This C is the one called middle C."))
    return tuple(found)


def _slips(facts: NameTheNote) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, pitch: Pitch, remedy: str, *, steady: bool = False) -> None:
        text = pitch.name.text
        found.append(slip(name, Value(words=text), text, remedy, steady=steady))

    look = f"This is the {facts.clef} clef: find the line it names first, then count from there."
    for other in _MIXED_UP[facts.clef]:
        add(f"read in the {other} clef", _pitch(facts, other), look, steady=True)
    if facts.accidental not in (None, "natural"):
        alter = sign_alter(facts.accidental)
        add("sign left out", _pitch(facts, alter=0), "Look just before the note: a sign there is part of its name.")
        looks = "A double sharp is like a small x, a double flat is two flats side by side."
        if abs(alter) == 1:
            looks = "A sharp is like a small grid, a flat like a b."
        add("sharp and flat mixed up", _pitch(facts, alter=-alter), looks)
        if abs(alter) > 1:
            add("double sign read as single", _pitch(facts, alter=alter // 2), "A double sign moves the note twice.")
    for shift, side in ((1, "high"), (-1, "low")):
        add(f"one place too {side}", _pitch(facts, shift=shift), "Count each line and each space, one at a time.")
    return tuple(found)


def _work(facts: NameTheNote, method: str) -> tuple[Step, ...]:
    steps = list(reading(facts.clef, facts.place, "n1"))
    name = _pitch(facts).name.text
    if facts.accidental:
        steps.append(Step(f"Add the {sign_text(facts.accidental)} that stands before it: {name}.", ("n1",), name))
    side = "down" if facts.place > CLEFS[facts.clef].place(CLEFS[facts.clef].named_pitch) else "back"
    steps.append(Step(f"Check: say the letters {side} to the line you started from.", ("n1",)))
    return tuple(steps)


def _neighbours(facts: NameTheNote) -> tuple[Value, ...]:
    return tuple(Value(words=_pitch(facts, shift=shift).name.text) for shift in (-3, -2, 2, 3))


def _ledgers(facts: NameTheNote) -> int:
    return max(0, -facts.place // 2, (facts.place - 8) // 2)


def _difficulty(facts: NameTheNote) -> float:
    """Clef, ledger lines and a sign to notice add up (common practice)."""
    clef = {"treble": -0.6, "bass": -0.3, "alto": 0.2, "tenor": 0.4}[facts.clef]
    return -1.0 + clef + 0.4 * _ledgers(facts) + (0.2 if facts.accidental else 0.0)


def _pool(scope: Scope) -> int:
    total = 0
    for clef in scope.clefs:
        low, high = scope.range_of(clef)
        for diatonic in range(low.diatonic, high.diatonic + 1):
            step = Pitch.from_diatonic(diatonic).step
            signs = [alter for alter in set(scope.alters) if 2 in scope.alters or (step, alter) not in _RARE]
            total += len(signs) + 1  # a natural note is shown with and without its sign
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
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
)
