"""Where the semitones of a written scale lie."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.setting.scale_rows import on_paper, printed_count, printed_scale
from stavewright.questions.showing.scale_rows import row_block
from stavewright.questions.solving.scale_rows import bare_pitches, row_pitches, scale_of
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Written
from stavewright.syllabus.scope import Scope
from stavewright.theory.pitch import Pitch

# The lower degree of each semitone, counted up from the tonic. Gehrkens, Music Notation and Terminology (1914) §81-88.
_SEMITONES = {
    "major": (3, 7),
    "natural minor": (2, 5),
    "harmonic minor": (2, 5, 7),
    "melodic minor": (2, 7),
}
_AS_IN_MAJOR = ((3, 4), (7, 8))
_COUNTS = {1: "is one such pair", 2: "are two such pairs", 3: "are three such pairs"}


class SemitonesInAScale(Facts, frozen=True, forbid_unknown_fields=True):
    """Eight notes of a scale as they are printed, up or down, under a clef and perhaps a signature."""

    clef: ClefName
    fifths: Fifths | None
    notes: Annotated[tuple[Written, ...], Meta(min_length=8, max_length=8)]


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = printed_scale(scope, rng)
    if found is None:
        return None
    notes = on_paper(found.pitches, found.clef, found.fifths)
    degrees = _SEMITONES[found.form]
    first = degrees if found.direction == "up" else tuple(8 - degree for degree in reversed(degrees))
    meant = Value(places=tuple(Place(1, number) for number in first))
    return Draft(SemitonesInAScale(found.clef, found.fifths, notes), meant)


def _pitches(facts: SemitonesInAScale) -> tuple[Pitch, ...]:
    return row_pitches(facts.clef, facts.fifths, facts.notes)


def _close(pitches: Sequence[Pitch]) -> tuple[int, ...]:
    """The number of the first note of each pair a semitone apart."""
    steps = enumerate(pairwise(pitches), 1)
    return tuple(number for number, (one, other) in steps if abs(other.midi - one.midi) == 1)


def _pose(facts: SemitonesInAScale, wording: Wording) -> Posed:
    count = len(_close(_pitches(facts)))
    block = row_block(facts.clef, facts.fifths, facts.notes, numbered=True)
    ask = (
        "Find every pair of neighbouring notes that are a semitone apart, and mark the first note of each pair. "
        f"There {_COUNTS.get(count, f'are {count} such pairs')}."
    )
    return Posed((TextBlock(wording.say(ask)), block), PlacesForm("numbers", count))


def _value(numbers: Sequence[int]) -> Value:
    return Value(places=tuple(Place(1, number) for number in numbers))


def _text(numbers: Sequence[int]) -> str:
    return ", ".join(f"notes {number} and {number + 1}" for number in numbers)


def _solve(facts: SemitonesInAScale) -> tuple[Answer, ...]:
    pitches = _pitches(facts)
    tonic, form, _ = scale_of(pitches)
    found = _close(pitches)
    if not found:
        raise BadDocument("no two neighbours are a semitone apart: give the notes of a scale")
    named = ", ".join(f"{pitches[at - 1].name.text} to {pitches[at].name.text}" for at in found)
    return (answer(_value(found), _text(found), f"In {tonic.text} {form} the semitones are {named}."),)


def _slips(facts: SemitonesInAScale) -> tuple[Slip, ...]:
    pitches = _pitches(facts)
    _, form, way = scale_of(pitches)
    right = _close(pitches)
    found: list[Slip] = []

    def add(name: str, numbers: Sequence[int], remedy: str) -> None:
        if numbers:
            found.append(slip(name, _value(numbers), _text(numbers), remedy))

    if form != "major":
        numbers = [low if way == "up" else 8 - low for low, _ in _AS_IN_MAJOR]
        hint = "That is the pattern of a major scale. A minor scale has its first semitone between 2 and 3."
        add("3-4 and 7-8 in minor too", sorted(numbers), hint)
    add("signs left out", _close(bare_pitches(facts.clef, facts.notes)), "Put each sign with its note, then count.")
    if way == "down":
        hint = "This scale comes down: degree 8 is printed first."
        add("counted from the wrong end", sorted(8 - number for number in right), hint)
    later = [number + 1 for number in right if number < 7]
    add("second note of each pair", later, "Mark the note where the semitone begins, not where it ends.")
    wide = [number for number, (a, b) in enumerate(pairwise(pitches), 1) if abs(b.midi - a.midi) == 3]
    if wide:
        hint = "Notes 6 and 7 of this scale are three semitones apart: count the keys between."
        add("wide step taken for a semitone", sorted((*right[:-1], *wide)), hint)
    return tuple(found)


def _work(facts: SemitonesInAScale, method: str) -> tuple[Step, ...]:
    pitches = _pitches(facts)
    tonic, form, way = scale_of(pitches)
    found = _close(pitches)
    ids = tuple(f"n{number}" for at in found for number in (at, at + 1))
    degrees = ", ".join(
        f"{low} and {low + 1}" for low in sorted(number if way == "up" else 8 - number for number in found)
    )
    names = " ".join(pitch.name.text for pitch in pitches)
    steps = [
        Step(f"Name the notes with their signs: {names}.", (), " ".join(pitch.name.short for pitch in pitches)),
        Step(f"This is {tonic.text} {form}: its semitones lie between degrees {degrees}.", (), degrees),
    ]
    if way == "down":
        steps.append(Step("It comes down, so degree 8 stands first and degree 1 last.", ("n1", "n8"), "8 ... 1"))
    said = ", ".join(f"{pitches[at - 1].name.text} to {pitches[at].name.text}" for at in found)
    steps.append(Step(f"On the page these are {said}.", ids, _text(found)))
    steps.append(Step("Check: on a keyboard, the two notes of each pair have no key between them.", ids))
    return tuple(steps)


def _difficulty(facts: SemitonesInAScale) -> float:
    """Minor forms, coming down, signs in a signature and the C clefs add up (common practice)."""
    tonic, form, way = scale_of(_pitches(facts))
    minor = {"major": 0.0, "natural minor": 0.4, "harmonic minor": 0.6, "melodic minor": 0.5}[form]
    signs = 0.06 * abs(tonic.fifths) + 0.2 * bool(facts.fifths)
    return -1.4 + minor + signs + 0.3 * (way == "down") + 0.3 * (facts.clef in ("alto", "tenor"))


def _pool(scope: Scope) -> int:
    return printed_count(scope)


def _shows(facts: SemitonesInAScale) -> frozenset[str]:
    tonic, form, _ = scale_of(_pitches(facts))
    return frozenset({f"scale:{tonic.text} {form}"})


KIND = Kind(
    id="semitones-in-a-scale",
    topic="scales",
    since=1,
    title="Semitones in a scale",
    facts=SemitonesInAScale,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"semitones-in-a-scale/{scale_of(_pitches(facts))[1]}",
    pool=_pool,
    seconds=30,
    marking=Marking("per-item"),
    marks=2,
    shows=_shows,
)
