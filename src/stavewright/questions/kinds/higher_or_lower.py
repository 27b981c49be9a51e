"""Order notes by pitch, under one clef, later across clefs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import combinations
from random import Random
from string import ascii_lowercase
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Answer, Option, OrderForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef
from stavewright.questions.showing.describing import with_sign
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Sign, StavePlace
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_alter, sign_name
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

_COUNTS = (2, 3, 3, 4, 4, 5)
_NEAR = 5
_SIGN_SHARE = 0.35
_TWO_ON_ONE_LINE = 0.25
_TRIES = 40
_UNUSUAL = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
_RARE = frozenset({("E", 2), ("B", 2), ("C", -2), ("F", -2)})


class Placed(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One note on a stave of its own: clef, place (0 is the bottom line, 1 the space above it), printed sign."""

    clef: ClefName
    place: StavePlace
    accidental: Sign | None = None

    @property
    def pitch(self) -> Pitch:
        """The note as it sounds."""
        return CLEFS[self.clef].pitch_at(self.place, sign_alter(self.accidental) if self.accidental else 0)


class HigherOrLower(Facts, frozen=True, forbid_unknown_fields=True):
    """The notes as they are printed, a, b, c ..., to be ordered from the lowest up, or from the highest down.

    Raises:
        BadDocument: two of them sound the same.
    """

    notes: Annotated[tuple[Placed, ...], Meta(min_length=2, max_length=5)]
    lowest_first: bool = True

    def __post_init__(self) -> None:
        if len({note.pitch.midi for note in self.notes}) < len(self.notes):
            raise BadDocument("two of the notes sound the same: give notes of different pitch")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    count = rng.choice(_COUNTS)
    first = pick_clef(scope, rng)
    mixed = scope.across_clefs and rng.random() < 0.6
    clefs = [first, *(rng.choice(scope.clefs) if mixed else first for _ in range(count - 1))]
    ranges = [scope.range_of(clef) for clef in clefs]
    low, high = max(low.diatonic for low, _ in ranges), min(high.diatonic for _, high in ranges)
    centre = rng.randint(min(low, high), max(low, high))
    by_sound: dict[int, Placed] = {}
    for clef in clefs:
        note = _one_more(scope, rng, clef, centre, by_sound)
        if note is None:
            return None
        by_sound[note.pitch.midi] = note
    ranked = [by_sound[sound] for sound in sorted(by_sound)]
    printed = list(ranked)
    rng.shuffle(printed)
    lowest_first = rng.random() < 0.5
    meant = ranked if lowest_first else ranked[::-1]
    facts = HigherOrLower(tuple(printed), lowest_first)
    return Draft(facts, Value(order=tuple(ascii_lowercase[printed.index(one)] for one in meant)))


def _one_more(scope: Scope, rng: Random, clef: str, centre: int, others: dict[int, Placed]) -> Placed | None:
    """A note near the centre that sounds unlike the others; now and then on the line or space of one of them."""
    low, high = scope.range_of(clef)
    bottom = CLEFS[clef].bottom_line.diatonic
    for _ in range(_TRIES):
        diatonic = rng.randint(max(low.diatonic, centre - _NEAR), max(low.diatonic, min(high.diatonic, centre + _NEAR)))
        share = _SIGN_SHARE
        same = [note.place for note in others.values() if note.clef == clef]
        if same and rng.random() < _TWO_ON_ONE_LINE:
            diatonic, share = rng.choice(same) + bottom, 1.0
        alter = rng.choice([one for one in scope.alters if one]) if rng.random() < share else 0
        pitch = Pitch.from_diatonic(diatonic, alter)
        rare = _RARE if 2 in scope.alters else _RARE | _UNUSUAL
        if pitch.midi not in others and (pitch.step, alter) not in rare:
            return Placed(clef, diatonic - bottom, sign_name(alter) if alter else None)
    return None


def _pose(facts: HigherOrLower, wording: Wording) -> Posed:
    ends = "the lowest to the highest" if facts.lowest_first else "the highest to the lowest"
    items = []
    for letter, note in zip(ascii_lowercase, facts.notes, strict=False):
        shown = single(
            note.clef, (Note(note.pitch, Duration("semibreve"), id=f"{letter}1", accidental=note.accidental),)
        )
        alt = f"Note {letter}: {note.clef} clef, {with_sign(note.place, note.accidental)}."
        items.append(Option(letter, score=document_of(shown), alt=wording.say(alt)))
    ask = wording.say(f"Put these {len(items)} notes in order of pitch, from {ends}.")
    return Posed((TextBlock(ask),), OrderForm(tuple(items)))


def _ordered(facts: HigherOrLower, height: Callable[[Placed], int]) -> tuple[int, ...]:
    """The numbers of the notes (from 0) by a height, from the end that the question names; equals stay as printed."""
    turn = 1 if facts.lowest_first else -1
    return tuple(sorted(range(len(facts.notes)), key=lambda at: turn * height(facts.notes[at])))


def _answer(facts: HigherOrLower, order: tuple[int, ...]) -> tuple[Value, str]:
    letters = tuple(ascii_lowercase[at] for at in order)
    names = ", ".join(facts.notes[at].pitch.name.text for at in order)
    return Value(order=letters), f"{', '.join(letters)} ({names})"


def _sounding(note: Placed) -> int:
    return note.pitch.midi


def _solve(facts: HigherOrLower) -> tuple[Answer, ...]:
    order = _ordered(facts, _sounding)
    value, text = _answer(facts, order)
    signs = ", and the signs decide the rest" if any(note.accidental for note in facts.notes) else ""
    return (answer(value, text, f"Each line and space counted from middle C: {_sides(facts, order)}{signs}."),)


def _slips(facts: HigherOrLower) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, order: tuple[int, ...], remedy: str) -> None:
        value, text = _answer(facts, order)
        if all(value != one.value[0] for one in found):
            found.append(slip(name, value, text, remedy))

    right = _ordered(facts, _sounding)
    if len({note.clef for note in facts.notes}) > 1:
        look = "The clefs differ, so a place says nothing by itself: name each note with its octave."
        add("reads by look across clefs", _ordered(facts, lambda note: note.place), look)
    add("began at the wrong end", right[::-1], "Read again which comes first: the lowest or the highest?")
    if any(note.accidental for note in facts.notes):
        signs = "A sharp makes a note higher, a flat lower: read the signs too."
        add("signs left out", _ordered(facts, lambda note: note.pitch.diatonic), signs)
    letters = "The alphabet starts again after G: look where the notes stand."
    add("by the alphabet", _ordered(facts, lambda note: "ABCDEFG".index(note.pitch.step)), letters)
    if len(right) > 2:
        swapped = (*right[:-2], right[-1], right[-2])
        add("last two the wrong way round", swapped, "Compare each note with the next one once more.")
    return tuple(found)


def _work(facts: HigherOrLower, method: str) -> tuple[Step, ...]:
    order = _ordered(facts, _sounding)
    letters = ascii_lowercase
    named = ", ".join(f"{letters[at]} is {note.pitch.name.text}" for at, note in enumerate(facts.notes))
    steps = [Step(f"Name the notes: {named}.", (), " ".join(note.pitch.name.symbol for note in facts.notes))]
    if len({note.clef for note in facts.notes}) > 1:
        sides = _sides(facts, range(len(facts.notes)))
        steps.append(Step(f"Find middle C in each clef and count from it: {sides}.", (), "middle C"))
    else:
        steps.append(Step("All have one clef: put them in order by where they stand on the stave.", (), ""))
    _, text = _answer(facts, order)
    if any(note.accidental for note in facts.notes):
        steps.append(Step(_by_the_signs(facts, order), (), ""))
    ends = "lowest to highest" if facts.lowest_first else "highest to lowest"
    steps.append(Step(f"From {ends}: {text}.", (), " ".join(letters[at] for at in order)))
    way = "up" if facts.lowest_first else "down"
    steps.append(Step(f"Check: on a keyboard each note lies further {way} than the one before.", (), ""))
    return tuple(steps)


def _by_the_signs(facts: HigherOrLower, order: tuple[int, ...]) -> str:
    """What the signs change: the first two notes on one line or space, or the other way round than they stand."""
    rising = order if facts.lowest_first else order[::-1]
    for low, high in combinations(rising, 2):
        below, above = facts.notes[low].pitch, facts.notes[high].pitch
        if below.diatonic >= above.diatonic:
            names = f"{ascii_lowercase[low]} ({below.name.text}) is lower than {ascii_lowercase[high]}"
            return f"A sharp lifts its note, a flat lowers it: so {names} ({above.name.text})."
    return "A sharp lifts its note, a flat lowers it: here the order stays the same."


def _sides(facts: HigherOrLower, order: Iterable[int]) -> str:
    """How far each note stands from middle C, whatever its sign, in this order."""
    middle = Pitch("C", 0, 4).diatonic
    away = {at: note.pitch.diatonic - middle for at, note in enumerate(facts.notes)}
    return ", ".join(f"{ascii_lowercase[at]} {_beside_middle_c(away[at])}" for at in order)


def _beside_middle_c(away: int) -> str:
    if not away:
        return "on its place"
    return f"{abs(away)} {'place' if abs(away) == 1 else 'places'} {'above' if away > 0 else 'below'}"


def _difficulty(facts: HigherOrLower) -> float:
    """More notes, more clefs, the C clefs and signs make it harder (common practice)."""
    clefs = {note.clef for note in facts.notes}
    signs = sum(note.accidental is not None for note in facts.notes)
    return -2.2 + 0.25 * len(facts.notes) + 0.6 * (len(clefs) - 1) + 0.2 * len(clefs & {"alto", "tenor"}) + 0.1 * signs


def _skill(facts: HigherOrLower) -> str:
    return f"higher-or-lower/{'one clef' if len({note.clef for note in facts.notes}) == 1 else 'across clefs'}"


KIND = Kind(
    id="higher-or-lower",
    topic="notes",
    since=1,
    title="Higher or lower",
    facts=HigherOrLower,
    forms={"written": "order", "on-screen": "order"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=lambda scope: None,
    seconds=30,
    marking=Marking("per-item"),
    marks=2,
)
