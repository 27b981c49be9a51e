"""Tell the form of a written minor scale: harmonic or melodic, later natural too."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.setting.scale_rows import on_paper, printed_count, printed_scale
from stavewright.questions.setting.scales import DIRECTIONS
from stavewright.questions.showing.scale_rows import row_block
from stavewright.questions.solving.scale_rows import row_pitches, scale_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, ScaleForm, Written
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch

_HARMONIC, _MELODIC, _NATURAL = "harmonic minor", "melodic minor", "natural minor"


class MinorForm(Facts, frozen=True, forbid_unknown_fields=True):
    """A minor scale as it is printed, eight notes or fifteen up and down, and the forms to choose from.

    Raises:
        BadDocument: the forms hold both natural and melodic for a scale coming down alone, where they are alike.
    """

    clef: ClefName
    fifths: Fifths | None
    notes: Annotated[tuple[Written, ...], Meta(min_length=8, max_length=15)]
    forms: Annotated[tuple[ScaleForm, ...], Meta(min_length=2, max_length=3)]

    def __post_init__(self) -> None:
        falling = self.notes[1].place < self.notes[0].place
        if falling and {_MELODIC, _NATURAL} <= set(self.forms):
            raise BadDocument("coming down, natural and melodic minor are alike: leave one of them out of the forms")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = printed_scale(scope, rng, minor=True, directions=DIRECTIONS)
    if found is None or len(scope.minor_forms) < 2:
        return None
    forms = scope.minor_forms
    if found.direction == "down" and _NATURAL in forms:
        forms = tuple(form for form in forms if form != _MELODIC)
    notes = on_paper(found.pitches, found.clef, found.fifths)
    return Draft(MinorForm(found.clef, found.fifths, notes, forms), found.form)


def _pose(facts: MinorForm, wording: Wording) -> Posed:
    block = row_block(facts.clef, facts.fifths, facts.notes)
    tonic = row_pitches(facts.clef, facts.fifths, facts.notes)[0].name.text
    return Posed((TextBlock(f"This is a scale of {tonic} minor. Which form is it?"), block))


def _read(facts: MinorForm) -> tuple[NoteName, str, str]:
    tonic, form, way = scale_of(row_pitches(facts.clef, facts.fifths, facts.notes))
    if form == "major":
        raise BadDocument(f"{tonic.text} major is no minor scale: give the notes of a minor one")
    return tonic, form, way


def _degrees(facts: MinorForm, *, falling: bool = False) -> tuple[Pitch, Pitch]:
    """The 6th and 7th, on the way up (or the only way there is), or on the way down."""
    pitches = row_pitches(facts.clef, facts.fifths, facts.notes)
    if pitches[1].diatonic < pitches[0].diatonic:
        return pitches[2], pitches[1]
    return (pitches[9], pitches[8]) if falling and len(pitches) > 8 else (pitches[5], pitches[6])


def _solve(facts: MinorForm) -> tuple[Answer, ...]:
    tonic, form, way = _read(facts)
    sixth, seventh = (pitch.name.full_text for pitch in _degrees(facts))
    up = {"up": " going up", "down": " coming down", "both": " going up"}[way]
    back = ""
    if form == _MELODIC and way == "both":
        lower = " and ".join(pitch.name.full_text for pitch in _degrees(facts, falling=True))
        back = f", and {lower} coming down"
    reason = f"Its 6th and 7th are {sixth} and {seventh}{up}{back}: that is the {form} of {tonic.text}."
    return (answer(Value(words=form), form, reason),)


def _slips(facts: MinorForm) -> tuple[Slip, ...]:
    _, form, way = _read(facts)
    found: list[Slip] = []

    def add(name: str, wrong: str, remedy: str) -> None:
        found.append(slip(name, Value(words=wrong), wrong, remedy))

    if way == "both":
        looks = _HARMONIC if form == _HARMONIC else _NATURAL
        add("direction ignored, read coming down", looks, "Read it both ways: the melodic form changes coming down.")
    if form != _NATURAL:
        add("looked at the 7th only", _HARMONIC, "Look at the 6th as well: is it raised too?")
        add("looked for any raised note", _MELODIC, "Count the raised notes: is it the 7th alone, or the 6th as well?")
        add("read by the signature", _NATURAL, "Look for signs beside the notes: they raise the 6th or the 7th.")
    else:
        add("took the signature for raised notes", _HARMONIC, "A raised 7th has a sign of its own beside the note.")
        add("any minor scale called melodic", _MELODIC, "The melodic form raises two notes going up. Are they raised?")
    return tuple(found)


def _work(facts: MinorForm, method: str) -> tuple[Step, ...]:
    tonic, form, way = _read(facts)
    key = Key(tonic, "minor")
    places = ("n3", "n2") if way == "down" else ("n6", "n7")
    sixth, seventh = (pitch.name for pitch in _degrees(facts))
    plain = [name.full_text for name in _of_signature(key)]
    steps = [
        Step(f"In the key signature of {key.text} the 6th and 7th are {plain[0]} and {plain[1]}.", (), " ".join(plain)),
        Step(
            f"Here they are {sixth.full_text} and {seventh.full_text}{'' if way != 'both' else ' going up'}.",
            places,
            f"6 {sixth.short}, 7 {seventh.short}",
        ),
    ]
    if way == "both":
        low, high = (pitch.name.full_text for pitch in _degrees(facts, falling=True))
        steps.append(Step(f"Coming down they are {high} and {low}.", ("n9", "n10"), "down"))
    rule = {
        _HARMONIC: "Only the 7th is raised",
        _MELODIC: "Both are raised going up",
        _NATURAL: "Neither is raised",
    }[form]
    steps.append(Step(f"{rule}: the {form}.", places, form.removesuffix(" minor")))
    natural = ", natural none" if _NATURAL in facts.forms else ""
    steps.append(Step(f"Check: harmonic raises one note, melodic two going up and none coming down{natural}."))
    return tuple(steps)


def _of_signature(key: Key) -> tuple[NoteName, NoteName]:
    """The 6th and 7th as the key signature makes them."""
    return NoteName.from_fifths(key.tonic.fifths - 4), NoteName.from_fifths(key.tonic.fifths - 2)


def _options(facts: MinorForm) -> tuple[Value, ...]:
    return tuple(Value(words=form) for form in facts.forms)


def _difficulty(facts: MinorForm) -> float:
    """No signature, signs that are sharps already, one way only and the C clefs add up (common practice)."""
    tonic, _, way = _read(facts)
    signs = 0.08 * abs(Key(tonic, "minor").fifths)
    return -0.9 + signs + 0.3 * (facts.fifths is None) + 0.2 * (way == "down") + 0.3 * (facts.clef in ("alto", "tenor"))


def _pool(scope: Scope) -> int:
    return printed_count(scope, minor=True, directions=DIRECTIONS)


def _tokens(facts: MinorForm) -> frozenset[str]:
    tonic, form, _ = _read(facts)
    return frozenset({f"scale:{tonic.text} {form}"})


KIND = Kind(
    id="minor-form",
    topic="scales",
    since=2,
    title="Harmonic or melodic",
    facts=MinorForm,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"minor-form/{_read(facts)[1].removesuffix(' minor')}",
    pool=_pool,
    seconds=20,
    marking=Marking("all-or-nothing"),
    options=_options,
    asks=_tokens,
    shows=_tokens,
)
