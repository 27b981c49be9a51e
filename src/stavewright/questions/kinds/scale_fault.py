"""Find the wrong note in a written scale."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.setting.scale_rows import PrintedScale, on_paper, printed_scale
from stavewright.questions.showing.scale_rows import row_block
from stavewright.questions.solving.scale_rows import row_pitches
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Direction, NameText, ScaleForm, Written
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key, signature_text
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import FORMS, scale_names

_WAYS = {"up": "ascending", "down": "descending", "both": "ascending and descending"}
_TURNING_SHARE = 0.6
_LETTER_SHARE = 0.15
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})


class ScaleFault(Facts, frozen=True, forbid_unknown_fields=True):
    """A scale by name, and its notes as they are printed, one of them wrong."""

    clef: ClefName
    fifths: Fifths | None
    tonic: NameText
    form: ScaleForm
    direction: Direction
    notes: Annotated[tuple[Written, ...], Meta(min_length=8, max_length=15)]


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = printed_scale(scope, rng, directions=("up", "down", "both"))
    if found is None:
        return None
    at = _turning_point(found, rng) if rng.random() < _TURNING_SHARE else rng.choice(_inner(found))
    wrong = _spoilt(found, at, scope, rng)
    if wrong is None:
        return None
    pitches = (*found.pitches[:at], wrong, *found.pitches[at + 1 :])
    notes = on_paper(pitches, found.clef, found.fifths)
    facts = ScaleFault(found.clef, found.fifths, found.key.tonic.text, found.form, found.direction, notes)
    return Draft(facts, Value(places=(Place(1, at + 1),)))


def _inner(found: PrintedScale) -> list[int]:
    """Every note but the tonics."""
    return [at for at, pitch in enumerate(found.pitches) if pitch.step != found.key.tonic.step]


def _turning_point(found: PrintedScale, rng: Random) -> int:
    """A 7th or, in a minor scale, a 6th: the notes that are most often written wrong."""
    wanted = (5, 6) if found.key.is_minor else (6,)
    letters = {(found.key.tonic.index + degree) % 7 for degree in wanted}
    return rng.choice([at for at, pitch in enumerate(found.pitches) if pitch.name.index in letters])


def _spoilt(found: PrintedScale, at: int, scope: Scope, rng: Random) -> Pitch | None:
    """The note a semitone off on its own letter, or now and then the letter beside it."""
    right = found.pitches[at]
    if rng.random() < _LETTER_SHARE:
        return found.pitches[at + 1]
    near = [
        right.altered(by)
        for by in (1, -1)
        if right.alter + by in scope.alters and (2 in scope.alters or (right.step, right.alter + by) not in _RARE)
    ]
    simple = [pitch for pitch in near if abs(pitch.alter) < 2]  # a double sign would be seen at once
    return rng.choice(simple or near) if near else None


def _name(facts: ScaleFault) -> str:
    return f"{facts.tonic} {facts.form}"


def _pose(facts: ScaleFault, wording: Wording) -> Posed:
    block = row_block(facts.clef, facts.fifths, facts.notes, numbered=True)
    ask = f"This should be the scale of {_name(facts)}, {_WAYS[facts.direction]}. Mark the one note that is wrong."
    return Posed((TextBlock(ask), block), PlacesForm("numbers", 1))


def _names(facts: ScaleFault, form: str = "") -> tuple[NoteName, ...]:
    """The notes of the named scale (or of another form on the same tonic) in the direction it is printed."""
    tonic = NoteName.parse(facts.tonic)
    up = scale_names(tonic, form or facts.form)
    down = scale_names(tonic, form or facts.form, ascending=False)
    return {"up": up, "down": down, "both": (*up, *down[1:])}[facts.direction]


def _wrong(facts: ScaleFault, form: str = "") -> tuple[int, ...]:
    """The numbers (from 1) of the printed notes that are not in the scale where they stand."""
    pitches = row_pitches(facts.clef, facts.fifths, facts.notes)
    pairs = enumerate(zip(pitches, _names(facts, form), strict=False), 1)
    return tuple(number for number, (pitch, name) in pairs if pitch.name != name)


def _fault(facts: ScaleFault) -> int:
    found = _wrong(facts)
    if len(found) != 1 or len(facts.notes) != len(_names(facts)):
        raise BadDocument(f"{len(found)} notes of this {_name(facts)} are wrong: print one that is, and all the others")
    return found[0]


def _at(number: int) -> tuple[Value, str]:
    return Value(places=(Place(1, number),)), f"note {number}"


def _solve(facts: ScaleFault) -> tuple[Answer, ...]:
    number = _fault(facts)
    printed = row_pitches(facts.clef, facts.fifths, facts.notes)[number - 1].name.full_text
    right = _names(facts)[number - 1].full_text
    value, text = _at(number)
    return (answer(value, text, f"Note {number} is {printed}; {_name(facts)} has {right} there."),)


def _slips(facts: ScaleFault) -> tuple[Slip, ...]:
    number = _fault(facts)
    found: list[Slip] = []

    def add(name: str, numbers: Sequence[int], remedy: str) -> None:
        if numbers:
            value, text = _at(numbers[0])
            found.append(slip(name, value, text, remedy))

    if facts.form != "major":
        for other in FORMS[1:]:
            if other != facts.form:
                apart = [one for one in _wrong(facts, other) if one != number]
                add(f"compared with the {other}", apart, f"The question names the {facts.form}: say how it goes first.")
    signed = [at for at, note in enumerate(facts.notes, 1) if note.accidental and at != number]
    add("took the first printed sign for the fault", signed, "A sign may well be right: say the notes of the scale.")
    unsigned = [
        at
        for at, (note, name) in enumerate(zip(facts.notes, _names(facts), strict=True), 1)
        if facts.fifths and name.alter and not note.accidental and at != number
    ]
    add("signature forgotten", unsigned, "The key signature changes notes too: read it first.")
    beside = number + 1 if number < len(facts.notes) else number - 1
    add(
        "the note after the fault",
        [beside],
        "The step is wrong, but which of its two notes? Name the scale's own note.",
    )
    return tuple(found)


def _work(facts: ScaleFault, method: str) -> tuple[Step, ...]:
    number = _fault(facts)
    pitches = row_pitches(facts.clef, facts.fifths, facts.notes)
    names = _names(facts)
    key = Key(NoteName.parse(facts.tonic), "major" if facts.form == "major" else "minor")
    event = f"n{number}"
    signs = ", ".join(sign.text for sign in key.signature)
    right, printed = names[number - 1], pitches[number - 1].name
    steps = [Step(f"{key.text} has {signature_text(key.fifths)}{f': {signs}' if signs else ''}.", (), signs)]
    if facts.form != "major":
        steps.append(Step(_form_rule(facts.form), (), {"harmonic minor": "7 up"}.get(facts.form, "")))
    letters = " ".join(name.text for name in names[: 8 if facts.direction != "down" else None])
    steps.append(Step(f"So the scale reads {letters}{', and back' if facts.direction == 'both' else ''}.", (), ""))
    steps.append(
        Step(
            f"The {ordinal(number)} printed note is {printed.full_text}; it should be {right.full_text}.",
            (event,),
            right.short,
        )
    )
    steps.append(Step("Check: put it right in your mind, and each step is as it should be.", (event,)))
    return tuple(steps)


def _form_rule(form: str) -> str:
    return {
        "natural minor": "The natural form keeps to the key signature.",
        "harmonic minor": "The harmonic form raises the 7th, up and down.",
        "melodic minor": "The melodic form raises the 6th and 7th going up, and not coming down.",
    }[form]


def _difficulty(facts: ScaleFault) -> float:
    """Minor forms, the way down, more signs and the C clefs make a fault harder to see (common practice)."""
    minor = {"major": 0.0, "natural minor": 0.4, "harmonic minor": 0.5, "melodic minor": 0.8}[facts.form]
    key = Key(NoteName.parse(facts.tonic), "major" if facts.form == "major" else "minor")
    down = 0.2 * (facts.direction != "up")
    return -1.0 + minor + down + 0.08 * abs(key.fifths) + 0.3 * (facts.clef in ("alto", "tenor"))


KIND = Kind(
    id="scale-fault",
    topic="scales",
    since=2,
    title="The wrong note in a scale",
    facts=ScaleFault,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"scale-fault/{facts.form}",
    pool=lambda scope: None,
    seconds=30,
    marking=Marking("all-or-nothing"),
    shows=lambda facts: frozenset({f"scale:{facts.tonic} {facts.form}"}),
)
