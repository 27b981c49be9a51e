"""The clef and the accidentals that turn bare notes into a named scale."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.scale_rows import on_paper, spelled_row
from stavewright.questions.setting.scales import fitting_clefs, placed_scale
from stavewright.questions.showing.describing import where
from stavewright.questions.showing.pictures import picture
from stavewright.questions.showing.rows import note_row
from stavewright.questions.solving.landmarks import landmark, spelling
from stavewright.questions.solving.scales import as_written, names_of, scale_fifths, scale_row, wrong_scales
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import NameText, ScaleForm, StavePlace
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import row_of
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS, Clef
from stavewright.theory.key import key_of, signature_text
from stavewright.theory.pitch import NoteName, Pitch

_VALUE = "semibreve"
_WAYS = {"up": "ascending", "down": "descending"}
_ELSEWHERE = ("wrong direction", "placed as in the")


class ClefAndAccidentals(Facts, frozen=True, forbid_unknown_fields=True):
    """Eight bare notes without a clef, from the place `first` (0 is the bottom line) up or down; a scale by name."""

    first: StavePlace
    direction: Annotated[str, Meta(pattern=r"^(up|down)\Z", max_length=4)]
    tonic: NameText
    form: ScaleForm


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    placed = placed_scale(scope, rng)
    if placed is None:
        return None
    key, form, clef, octave = placed
    direction = "up" if form == "melodic minor" else rng.choice(("up", "down"))
    pitches = spelled_row(key.tonic, form, direction, octave)
    written = on_paper(pitches, clef, None)
    notes = tuple(
        WrittenNote(pitch.step, pitch.alter, pitch.octave, _VALUE, 0, note.accidental)
        for pitch, note in zip(pitches, written, strict=True)
    )
    facts = ClefAndAccidentals(written[0].place, direction, key.tonic.text, form)
    return Draft(facts, Value(notes=notes, clef=clef))


def _tonic(facts: ClefAndAccidentals) -> NoteName:
    return NoteName.parse(facts.tonic)


def _name(facts: ClefAndAccidentals) -> str:
    return f"{facts.tonic} {facts.form}"


def _places(facts: ClefAndAccidentals) -> range:
    way = 1 if facts.direction == "up" else -1
    return range(facts.first, facts.first + 8 * way, way)


def _bare(facts: ClefAndAccidentals) -> Score:
    """The notes without a clef; the pitches mean nothing, only their places."""
    row = row_of(CLEFS["treble"].pitch_at(place) for place in _places(facts))
    return Score((Stave("treble", (Bar((row,), line="none", free=True),), show_clef=False),))


def _pose(facts: ClefAndAccidentals, wording: Wording) -> Posed:
    name = f"{_name(facts)}, {_WAYS[facts.direction]}"
    bare = _bare(facts)
    alt = wording.say(picture(bare))
    if wording.choosing:
        ask = f"Which clef and accidentals make these notes the scale of {name}?"
        return Posed((TextBlock(wording.say(ask)), StaveBlock(document_of(bare), alt)))
    ask = f"Add a clef, and the accidentals that are needed, to make these notes the scale of {name}."
    return Posed((TextBlock(wording.say(ask)),), NotesForm(document_of(bare), 8, (_VALUE,), alt=alt))


def _clef(facts: ClefAndAccidentals) -> Clef:
    """The clef under which the first note has the letter of the tonic; on one place no two clefs agree."""
    for clef in CLEFS.values():
        if clef.pitch_at(facts.first).step == _tonic(facts).step:
            return clef
    raise BadDocument(f"no clef makes the note {where(facts.first)} {facts.tonic}: move it by a line or space")


def _octave(facts: ClefAndAccidentals) -> int:
    low = min(_places(facts)[0], _places(facts)[-1])
    return _clef(facts).pitch_at(low).octave


def _row(facts: ClefAndAccidentals) -> tuple[Pitch, ...]:
    return scale_row(_tonic(facts), facts.form, facts.direction, _octave(facts))


def _value(pitches: tuple[Pitch, ...], clef: str) -> Value:
    return Value(notes=as_written(pitches, clef, None, _VALUE), clef=clef)


def _text(pitches: tuple[Pitch, ...], clef: str) -> str:
    return f"{clef} clef: {names_of(pitches)}"


def _solve(facts: ClefAndAccidentals) -> tuple[Answer, ...]:
    clef, row = _clef(facts), _row(facts)
    reason = f"In the {clef.name} clef the first note, {where(facts.first)}, is {clef.pitch_at(facts.first).step}."
    return (answer(_value(row, clef.name), _text(row, clef.name), reason),)


def _slips(facts: ClefAndAccidentals) -> tuple[Slip, ...]:
    clef, row = _clef(facts), _row(facts)
    found: list[Slip] = []
    for other in CLEFS.values():
        if other is not clef:
            moved = tuple(other.pitch_at(clef.place(pitch), pitch.alter) for pitch in row)
            hint = f"Name the first note in your clef: it must be the tonic, {facts.tonic}."
            said = _text(moved, other.name)
            found.append(slip(f"{other.name} clef", _value(moved, other.name), said, hint, steady=True))
    wrongs = wrong_scales(_tonic(facts), facts.form, facts.direction, _octave(facts), clef.name)
    for at, wrong in enumerate(one for one in wrongs if not one.name.startswith(_ELSEWHERE)):
        said = _text(wrong.pitches, clef.name)
        one = slip(wrong.name, _value(wrong.pitches, clef.name), said, wrong.remedy, steady=wrong.steady)
        found.insert(2 * at + 1, one)
    return tuple(found)


def _work(facts: ClefAndAccidentals, method: str) -> tuple[Step, ...]:
    clef, row = _clef(facts), _row(facts)
    fifths = scale_fifths(_tonic(facts), facts.form)
    key = key_of(fifths, "major" if facts.form == "major" else "minor")
    letters = spelling(clef.name, facts.first)
    signs = ", ".join(sign.text for sign in key.signature)
    steps = [
        Step(f"The first note must be {facts.tonic}; it stands {where(facts.first)}.", ("n1",), facts.tonic),
        Step(f"{landmark(clef.name).text} From there the letters run {letters}: this clef fits.", ("n1",), clef.name),
        Step(f"{key.text} has {signature_text(fifths)}{f': {signs}' if signs else ''}.", (), signs),
    ]
    raised = {
        "harmonic minor": "The harmonic form raises the 7th as well.",
        "melodic minor": "Going up, the melodic form raises the 6th and 7th as well.",
    }
    if facts.form in raised:
        steps.append(Step(raised[facts.form], (), "7 up" if facts.form == "harmonic minor" else "6 7 up"))
    steps.append(Step(f"So the scale reads {names_of(row)}.", tuple(f"n{n}" for n in range(1, 9)), ""))
    steps.append(Step("Check: say each note in your clef, from tonic to tonic, with its sign."))
    return tuple(steps)


def _draw(facts: ClefAndAccidentals, value: Value) -> Score:
    return note_row(value, "treble")


def _difficulty(facts: ClefAndAccidentals) -> float:
    """The C clefs, minor forms and more signs make it harder (common practice)."""
    form = {"major": 0.0, "natural minor": 0.3, "harmonic minor": 0.5, "melodic minor": 0.7}[facts.form]
    signs = abs(scale_fifths(_tonic(facts), facts.form))
    return -0.6 + form + 0.12 * signs + 0.4 * (_clef(facts).name in ("alto", "tenor"))


def _pool(scope: Scope) -> int:
    total = 0
    for key in scope.keys:
        for form in scope.minor_forms if key.is_minor else ("major",):
            total += (1 if form == "melodic minor" else 2) * len(fitting_clefs(key.tonic, scope))
    return total


KIND = Kind(
    id="clef-and-accidentals",
    topic="scales",
    since=4,
    title="Clef and accidentals",
    facts=ClefAndAccidentals,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"clef-and-accidentals/{_clef(facts).name} {facts.form}",
    pool=_pool,
    seconds=60,
    marking=Marking("minus-one-per-fault", heading=True),
    marks=3,
    draw=_draw,
    asks=lambda facts: frozenset({f"scale:{_name(facts)}"}),
)
