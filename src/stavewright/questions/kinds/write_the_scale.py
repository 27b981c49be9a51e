"""Write a named scale of one octave: up, down or both ways, with or without its key signature."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta, structs

from stavewright.questions.comparing import compare
from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.scales import DIRECTIONS, fitting_clefs, placed_scale, spelled
from stavewright.questions.showing.rows import empty_row, note_row
from stavewright.questions.solving.scales import (
    WrongScale,
    as_written,
    names_of,
    octaves_on_the_stave,
    scale_fifths,
    scale_row,
    wrong_scales,
)
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Direction, LowOctave, NameText, ScaleForm, ValueName
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key, key_of, signature_text
from stavewright.theory.pitch import NoteName, Pitch

EITHER = "harmonic or melodic minor"
_DIRECTION_WORDS = {"up": "ascending", "down": "descending", "both": "ascending and descending"}
_SIGNATURES = ("none", "printed", "write")
_OF_THE_SIGNATURE = ("accidentals forgotten", "one sign too many", "one sign too few")


class WriteTheScale(Facts, frozen=True, forbid_unknown_fields=True):
    """A scale to write: lower tonic and its octave in the model answer, form, direction, clef and note value.

    `form` may leave the pupil to choose between harmonic and melodic. `signature` is "none" (accidentals only),
    "printed" (it stands on the stave) or "write" (it is a part of the answer).
    """

    clef: ClefName
    tonic: NameText
    octave: LowOctave
    form: ScaleForm
    direction: Direction
    signature: Annotated[str, Meta(pattern=r"^(none|printed|write)\Z", max_length=7)]
    value: ValueName = "semibreve"


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    placed = placed_scale(scope, rng)
    if placed is None:
        return None
    key, form, clef, octave = placed
    direction = rng.choice(DIRECTIONS)
    signature = rng.choice(_SIGNATURES) if key.fifths else "none"
    value = rng.choice(("semibreve", "semibreve", "minim", "crotchet"))
    meant = spelled(key.tonic, form, direction)
    if form == "harmonic minor" and rng.random() < 0.15:
        form = EITHER
    facts = WriteTheScale(clef, key.tonic.text, octave, form, direction, signature, value)
    return Draft(facts, meant)


def _tonic(facts: WriteTheScale) -> NoteName:
    return NoteName.parse(facts.tonic)


def _forms(facts: WriteTheScale) -> tuple[str, ...]:
    return ("harmonic minor", "melodic minor") if facts.form == EITHER else (facts.form,)


def _fifths(facts: WriteTheScale) -> int:
    return scale_fifths(_tonic(facts), _forms(facts)[0])


def _printed(facts: WriteTheScale) -> int | None:
    return None if facts.signature == "none" else _fifths(facts)


def _name(facts: WriteTheScale) -> str:
    if facts.form == "major":
        return f"{facts.tonic} major"
    if facts.form == EITHER:
        return f"{facts.tonic} minor, harmonic or melodic as you choose"
    return f"{facts.tonic} {facts.form}"


def _pose(facts: WriteTheScale, wording: Wording) -> Posed:
    direction = _DIRECTION_WORDS[facts.direction]
    if wording.choosing:
        name = f"{facts.tonic} minor" if facts.form == EITHER else _name(facts)
        return Posed((TextBlock(wording.say(f"Which is the scale of {name}, {direction}?")),))
    how = {
        "none": "Use accidentals, not a key signature.",
        "printed": "The key signature is there already.",
        "write": "Write the key signature first.",
    }[facts.signature]
    how = how if _fifths(facts) or facts.form != "major" else ""
    notes = Duration(facts.value).name(plural=True)
    ask = f"Write the scale of {_name(facts)}, {direction}, one octave, in {notes}, beginning on the tonic. {how}"
    fifths = _fifths(facts) if facts.signature == "printed" else None
    count = 15 if facts.direction == "both" else 8
    given = document_of(empty_row(facts.clef, count, fifths, facts.value))
    signature = f" and a key signature of {signature_text(fifths)}" if fifths is not None else ""
    alt = wording.say(f"An empty stave with the {facts.clef} clef{signature}, with room for {count} notes.")
    return Posed((TextBlock(wording.say(ask.strip())),), NotesForm(given, count, (facts.value,), alt=alt))


def _value(facts: WriteTheScale, pitches: tuple[Pitch, ...], fifths: int | None) -> Value:
    return Value(notes=as_written(pitches, facts.clef, fifths, facts.value), clef=facts.clef, signature=fifths)


def _solve(facts: WriteTheScale) -> tuple[Answer, ...]:
    tonic = _tonic(facts)
    found: list[Answer] = []
    for form in _forms(facts):
        for octave in octaves_on_the_stave(tonic, facts.clef, facts.octave):
            row = scale_row(tonic, form, facts.direction, octave)
            reason = f"{facts.tonic} {form} has these notes {_DIRECTION_WORDS[facts.direction]}."
            text = names_of(row)
            if octave != facts.octave:
                text = f"{text}, {abs(octave - facts.octave)} octave {'higher' if octave > facts.octave else 'lower'}"
                reason = "The question names no octave: any that keeps to the stave is right."
            found.append(answer(_value(facts, row, _printed(facts)), text, reason))
    return tuple(found)


def _slips(facts: WriteTheScale) -> tuple[Slip, ...]:
    tonic = _tonic(facts)
    form = _forms(facts)[0]
    found: list[Slip] = []
    for wrong in wrong_scales(tonic, form, facts.direction, facts.octave, facts.clef, under=_printed(facts)):
        if facts.signature == "printed" and wrong.name in _OF_THE_SIGNATURE:
            continue
        found.append(_slip(facts, wrong, _wrong_fifths(facts, wrong)))
    return tuple(found)


def _wrong_fifths(facts: WriteTheScale, wrong: WrongScale) -> int | None:
    """The signature that stands before a wrong scale: where the pupil writes it, it is wrong with the notes."""
    fifths = _printed(facts)
    if facts.signature == "write":
        if wrong.name == "accidentals forgotten":
            return 0
        if wrong.name in _OF_THE_SIGNATURE:
            right = scale_row(_tonic(facts), _forms(facts)[0], facts.direction, facts.octave)
            changed = sum(b.alter - a.alter for a, b in zip(right[:7], wrong.pitches[:7], strict=True))
            return _fifths(facts) + (1 if changed > 0 else -1)
    return fifths


def _slip(facts: WriteTheScale, wrong: WrongScale, fifths: int | None) -> Slip:
    value = _value(facts, wrong.pitches, fifths)
    return slip(wrong.name, value, names_of(wrong.pitches), wrong.remedy, steady=wrong.steady)


def _work(facts: WriteTheScale, method: str) -> tuple[Step, ...]:
    form = _forms(facts)[0]
    key = key_of(_fifths(facts), "major" if form == "major" else "minor")
    row = scale_row(key.tonic, form, facts.direction, facts.octave)
    count = signature_text(key.fifths)
    signs = ", ".join(sign.text for sign in key.signature)
    steps = [
        Step(f"{key.text} has {count}{': ' + signs if signs else ''}.", (), " ".join(s.short for s in key.signature))
    ]
    where = "upper" if facts.direction == "down" else "lower"
    way = {"up": "up", "down": "down", "both": "up and back down"}[facts.direction]
    steps.append(Step(f"Begin on the {where} {key.tonic.text} and write every letter {way} to the tonic.", (), ""))
    if form != "major":
        steps.append(Step(_minor_step(key, form, facts.direction), (), _jotting(key, form)))
    steps.append(Step(f"The scale is {names_of(row)}.", (), ""))
    steps.append(Step(_check(form, facts.direction), (), ""))
    return tuple(steps)


def _check(form: str, direction: str) -> str:
    """What to look for at the end: each letter once, and the semitones where the form has them (common practice)."""
    once = "Check: each letter comes once, and the semitones are between degrees"
    if form == "melodic minor":
        up, down = "2 and 3, 7 and 8", "2 and 3, 5 and 6"
        ways = {"up": f"{up} going up", "down": f"{down} coming down", "both": f"{up} going up, {down} coming down"}
        return f"{once} {ways[direction]}."
    where = {"major": "3 and 4, 7 and 8", "natural minor": "2 and 3, 5 and 6"}
    return f"{once} {where.get(form, '2 and 3, 5 and 6, 7 and 8')}."


def _minor_step(key: Key, form: str, direction: str) -> str:
    sixth, seventh = NoteName.from_fifths(key.tonic.fifths + 3).full_text, key.leading_note.full_text
    if form == "natural minor":
        return "The natural form changes nothing in the key signature."
    if form == "harmonic minor":
        return f"The harmonic form raises the 7th, up and down, to {seventh}."
    rise = f"Going up, the melodic form raises the 6th and 7th, to {sixth} and {seventh}."
    fall = "Coming down, the melodic form takes both back to the key signature."
    return {"up": rise, "down": fall, "both": f"{rise} {fall}"}[direction]


def _jotting(key: Key, form: str) -> str:
    return {"natural minor": "", "harmonic minor": "7 up", "melodic minor": "up: 6 7 raised, down: not"}[form]


def _neighbours(facts: WriteTheScale) -> tuple[Value, ...]:
    """Wrong scales that go the wrong way as well."""
    if facts.direction == "both":
        return ()
    form = _forms(facts)[0]
    wrong = wrong_scales(_tonic(facts), form, facts.direction, facts.octave, facts.clef, under=_printed(facts))
    turned = (one for one in wrong if one.name != "wrong direction")
    return tuple(_value(facts, one.pitches[::-1], _wrong_fifths(facts, one)) for one in turned)


def _faults(facts: WriteTheScale, value: Value) -> int | None:
    """Other note values than those asked for are one fault; so is a signature that was asked for and is not there."""
    notes = value.notes or ()
    unsigned = facts.signature == "write" and value.signature is None
    other = any(note.type not in (None, facts.value) or note.dots for note in notes)
    if not notes or not (unsigned or other):
        return None
    read = structs.replace(value, signature=0) if unsigned else value
    return other + min(compare(read, one.value[0], KIND.marking).faults for one in _solve(facts))


def _draw(facts: WriteTheScale, value: Value) -> Score:
    return note_row(value, facts.clef, _printed(facts), facts.value)


def _difficulty(facts: WriteTheScale) -> float:
    """More signs, the minor forms, the melodic form both ways and the C clefs make it harder (common practice)."""
    form = {"major": 0.0, "natural minor": 0.3, "harmonic minor": 0.5, "melodic minor": 0.8}[_forms(facts)[0]]
    both = 0.2 if facts.direction == "both" else 0.0
    clef = 0.3 if facts.clef in ("alto", "tenor") else 0.0
    return -1.0 + 0.15 * abs(_fifths(facts)) + form + both + clef


def _pool(scope: Scope) -> int:
    total = 0
    for key in scope.keys:
        forms = len(scope.minor_forms) + ("harmonic minor" in scope.minor_forms) if key.is_minor else 1
        signatures = len(_SIGNATURES) if key.fifths else 1
        total += len(fitting_clefs(key.tonic, scope)) * forms * signatures * len(DIRECTIONS) * 3
    return total


KIND = Kind(
    id="write-the-scale",
    topic="scales",
    since=1,
    title="Write a scale",
    facts=WriteTheScale,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"write-the-scale/{facts.form}",
    pool=_pool,
    seconds=90,
    marking=Marking("minus-one-per-fault", besides=True),
    marks=3,
    draw=_draw,
    faults=_faults,
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"scale:{facts.tonic} {form}" for form in _forms(facts)}),
)
