"""Write a named note: its place under the clef, in the right octave, with its sign before it."""

from __future__ import annotations

from random import Random
from typing import Annotated, Any

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Alter
from stavewright.questions.score_document import Step as Letter
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_pitch
from stavewright.questions.showing.describing import where
from stavewright.questions.showing.rows import empty_row, note_row
from stavewright.questions.solving.landmarks import landmark, spelling
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_name, sign_text
from stavewright.theory.clef import CLEFS
from stavewright.theory.pitch import Pitch

_MIDDLE_C = Pitch("C", 0, 4)
_NTH = ("", "first", "second", "third", "fourth", "fifth")
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
# The clefs a pupil mixes up with each.
_MIXED_UP = {"treble": ("bass",), "bass": ("treble",), "alto": ("treble", "tenor"), "tenor": ("alto", "bass")}


class WriteTheNote(Facts, frozen=True, forbid_unknown_fields=True):
    """A note by name, and which one of that letter: so many above middle C, below it (negative), or 0 for middle C.

    Raises:
        BadDocument: reach 0 with a letter other than C.
    """

    clef: ClefName
    step: Letter
    alter: Alter
    reach: Annotated[int, Meta(ge=-5, le=5)]

    def __post_init__(self) -> None:
        if self.reach == 0 and self.step != "C":
            raise BadDocument(f"reach 0 is middle C, not {self.step}: count from 1 above it or from -1 below")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick_clef(scope, rng)
    pitch = pick_pitch(scope, rng, clef)
    away = pitch.diatonic - _MIDDLE_C.diatonic
    octaves = (abs(away) + 6) // 7
    facts = WriteTheNote(clef, pitch.step, pitch.alter, octaves if away > 0 else -octaves)
    sign = sign_name(pitch.alter) if pitch.alter else None
    return Draft(facts, Value(notes=(WrittenNote(pitch.step, pitch.alter, pitch.octave, "semibreve", 0, sign),)))


def _read(score: Score) -> dict[str, Any] | None:
    """The first note of a typed stave: its name, and which one of that letter it is."""
    note = next(score.notes(), None)
    if note is None:
        return None
    pitch = note.pitch
    reach = pitch.octave - 3 - (pitch.step == "C") if pitch.octave >= 4 else pitch.octave - 4
    return {"clef": score.staves[0].clef, "step": pitch.step, "alter": pitch.alter, "reach": reach}


def _pitch(facts: WriteTheNote) -> Pitch:
    """The note asked for: letters below C belong to the octave that middle C begins, so the first of them is in it."""
    octave = 3 + facts.reach + (facts.step == "C") if facts.reach > 0 else 4 + facts.reach
    return Pitch(facts.step, facts.alter, octave)


def _value(facts: WriteTheNote, pitch: Pitch) -> Value:
    sign = sign_name(pitch.alter) if pitch.alter else None
    return Value(notes=(WrittenNote(pitch.step, pitch.alter, pitch.octave, "semibreve", 0, sign),), clef=facts.clef)


def _text(facts: WriteTheNote, pitch: Pitch) -> str:
    return f"{pitch.name.text}, {where(CLEFS[facts.clef].place(pitch))}"


def _which(facts: WriteTheNote) -> str:
    if not facts.reach:
        return "Put it where middle C stands." if facts.alter else "It is middle C."
    side = "above" if facts.reach > 0 else "below"
    return f"Use the {_NTH[abs(facts.reach)]} {facts.step} {side} middle C."


def _pose(facts: WriteTheNote, wording: Wording) -> Posed:
    name = _pitch(facts).name.text
    ask = wording.say(f"Write {name} as a semibreve under the {facts.clef} clef. {_which(facts)}")
    given = document_of(empty_row(facts.clef, 1))
    alt = wording.say(f"An empty stave with the {facts.clef} clef.")
    return Posed((TextBlock(ask),), NotesForm(given, count=1, values=("semibreve",), alt=alt))


def _solve(facts: WriteTheNote) -> tuple[Answer, ...]:
    pitch = _pitch(facts)
    place = where(CLEFS[facts.clef].place(pitch))
    sign = f", with the {sign_text(sign_name(pitch.alter))} before it" if pitch.alter else ""
    reason = f"Under the {facts.clef} clef this {pitch.step} stands {place}{sign}."
    return (answer(_value(facts, pitch), _text(facts, pitch), reason),)


def _slips(facts: WriteTheNote) -> tuple[Slip, ...]:
    pitch = _pitch(facts)
    clef = CLEFS[facts.clef]
    found: list[Slip] = []

    def add(name: str, wrong: Pitch, remedy: str, *, steady: bool = False) -> None:
        found.append(slip(name, _value(facts, wrong), _text(facts, wrong), remedy, steady=steady))

    look = f"This is the {facts.clef} clef: find the line it names first, then count from there."
    for other in _MIXED_UP[facts.clef]:
        wrong = clef.pitch_at(CLEFS[other].place(pitch), facts.alter)
        add(f"written for the {other} clef", wrong, look, steady=True)
    count = "Find middle C first, then count each note of that letter."
    add("an octave too high", pitch.shifted(1), count)
    add("an octave too low", pitch.shifted(-1), count)
    if facts.alter:
        add(
            "sign left out",
            pitch.altered(-facts.alter),
            "Write the sign just before the note, on the same line or space.",
        )
        looks = "A double sharp is like a small x, a double flat is two flats side by side."
        if abs(facts.alter) == 1:
            looks = "A sharp is like a small grid, a flat like a b."
        add("sharp and flat mixed up", pitch.altered(-2 * facts.alter), looks)
    for shift, side in ((1, "high"), (-1, "low")):
        near = Pitch.from_diatonic(pitch.diatonic + shift, facts.alter)
        add(f"one place too {side}", near, "Count each line and each space, one at a time.")
    return tuple(found)


def _work(facts: WriteTheNote, method: str) -> tuple[Step, ...]:
    pitch, clef = _pitch(facts), CLEFS[facts.clef]
    middle = where(clef.place(_MIDDLE_C))
    steps = [landmark(facts.clef), Step(f"Middle C stands {middle} under this clef.", (), "C")]
    place = where(clef.place(pitch))
    if facts.reach:
        side = "up" if facts.reach > 0 else "down"
        nth = _NTH[abs(facts.reach)]
        steps.append(Step(f"Go {side} from middle C to the {nth} {facts.step}: it stands {place}.", (), facts.step))
    if facts.alter:
        sign = sign_text(sign_name(facts.alter))
        steps.append(Step(f"Draw the {sign} before the note, on the same line or space as the note.", (), sign))
    if abs(clef.place(pitch) - clef.place(clef.named_pitch)) <= 7:
        steps.append(
            Step(f"Check: the letters from the line that the clef names are {spelling(facts.clef, clef.place(pitch))}.")
        )
    else:
        steps.append(Step(f"Check: name the note you wrote, as if you had never seen it. Is it {facts.step}?"))
    return tuple(steps)


def _draw(facts: WriteTheNote, value: Value) -> Score:
    return note_row(value, facts.clef)


def _ledgers(facts: WriteTheNote) -> int:
    place = CLEFS[facts.clef].place(_pitch(facts))
    return max(0, -place // 2, (place - 8) // 2)


def _difficulty(facts: WriteTheNote) -> float:
    """Clef, ledger lines, a sign to place and the octave to find add up (common practice)."""
    clef = {"treble": -0.6, "bass": -0.3, "alto": 0.2, "tenor": 0.4}[facts.clef]
    return -0.8 + clef + 0.4 * _ledgers(facts) + 0.3 * abs(facts.alter) + 0.2 * (abs(facts.reach) > 1)


def _pool(scope: Scope) -> int:
    total = 0
    for clef in scope.clefs:
        low, high = scope.range_of(clef)
        for diatonic in range(low.diatonic, high.diatonic + 1):
            step = Pitch.from_diatonic(diatonic).step
            total += len([alter for alter in set(scope.alters) if 2 in scope.alters or (step, alter) not in _RARE])
    return total


KIND = Kind(
    id="write-the-note",
    topic="notes",
    since=1,
    title="Write the note",
    facts=WriteTheNote,
    forms={"written": "notes", "on-screen": "notes"},
    set=_set,
    read=_read,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"write-the-note/{facts.clef}/{'ledger' if _ledgers(facts) else 'stave'}",
    pool=_pool,
    seconds=20,
    marking=Marking("all-or-nothing"),
    draw=_draw,
)
