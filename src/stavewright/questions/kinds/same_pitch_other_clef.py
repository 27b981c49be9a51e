"""Rewrite notes at the same pitch under another clef."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.describing import where, with_sign
from stavewright.questions.showing.rows import empty_row, note_row
from stavewright.questions.solving.landmarks import spelling
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Written
from stavewright.score.event import Note
from stavewright.score.stave import Score, single
from stavewright.syllabus.scope import Scope
from stavewright.theory import accidental
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.pitch import Pitch

_COUNT = 3
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
_MOST_LEDGERS = 4
# The clef a pupil may write for instead of the one printed.
_MIXED_UP = {"alto": "tenor", "tenor": "alto"}


class SamePitchOtherClef(Facts, frozen=True, forbid_unknown_fields=True):
    """Notes as they are written under one clef, to be written under another one.

    Raises:
        BadDocument: both clefs are the same.
    """

    clef: ClefName
    other: ClefName
    notes: Annotated[tuple[Written, ...], Meta(min_length=1, max_length=12)]

    def __post_init__(self) -> None:
        if self.clef == self.other:
            raise BadDocument(f"both clefs are the {self.clef} clef: name two different ones")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick(rng, scope.clefs, scope.fresh.get("clefs", ()))
    others = [name for name in scope.clefs if name != clef]
    if not others:
        return None
    other = rng.choice(others)
    if rng.random() < 0.5:
        clef, other = other, clef
    ranges = [scope.range_of(name) for name in (clef, other)]
    low, high = max(low.diatonic for low, _ in ranges), min(high.diatonic for _, high in ranges)
    if high - low < _COUNT - 1:
        return None
    first = rng.randint(low, max(low, high - 6))
    letters = rng.sample(range(first, min(high, first + 6) + 1), _COUNT)
    facts, meant = [], []
    for diatonic in letters:
        step = Pitch.from_diatonic(diatonic).step
        alter = rng.choice(scope.alters) if rng.random() < 0.5 else 0
        if (step, alter) in _RARE and 2 not in scope.alters:
            alter = 0
        pitch = Pitch.from_diatonic(diatonic, alter)
        sign = accidental.sign_name(alter) if alter else None
        facts.append(Written(diatonic - CLEFS[clef].bottom_line.diatonic, sign))
        meant.append(WrittenNote(step, alter, pitch.octave, "semibreve", 0, sign))
    return Draft(SamePitchOtherClef(clef, other, tuple(facts)), Value(notes=tuple(meant), clef=other))


def _pitches(facts: SamePitchOtherClef) -> tuple[Pitch, ...]:
    bottom = CLEFS[facts.clef].bottom_line.diatonic
    row = [accidental.WrittenNote(bottom + one.place, one.accidental) for one in facts.notes]
    return accidental.sounding([row], 0)[0]


def _value(facts: SamePitchOtherClef, pitches: tuple[Pitch, ...], *, signs: bool = True) -> Value:
    return Value(
        notes=tuple(
            WrittenNote(p.step, p.alter, p.octave, "semibreve", 0, one.accidental if signs else None)
            for p, one in zip(pitches, facts.notes, strict=True)
        ),
        clef=facts.other,
    )


def _text(facts: SamePitchOtherClef, pitches: tuple[Pitch, ...]) -> str:
    return "; ".join(f"{p.name.text} {where(CLEFS[facts.other].place(p))}" for p in pitches)


def _pose(facts: SamePitchOtherClef, wording: Wording) -> Posed:
    row = tuple(
        Note(pitch, Duration("semibreve"), id=f"n{i}", accidental=one.accidental)
        for i, (pitch, one) in enumerate(zip(_pitches(facts), facts.notes, strict=True), 1)
    )
    said = "; ".join(with_sign(one.place, one.accidental) for one in facts.notes)
    shown = StaveBlock(
        document_of(single(facts.clef, row)),
        wording.say(f"A stave with the {facts.clef} clef and {len(row)} notes: {said}."),
    )
    if wording.choosing:
        ask = f"Which answer has these notes at the same pitch in the {facts.other} clef?"
        return Posed((TextBlock(wording.say(ask)), shown))
    ask = f"Write these notes in the {facts.other} clef at the same pitch. Keep the signs."
    alt = wording.say(f"An empty stave with the {facts.other} clef and room for {len(row)} notes.")
    given = document_of(empty_row(facts.other, len(row)))
    return Posed((TextBlock(wording.say(ask)), shown), NotesForm(given, count=len(row), values=("semibreve",), alt=alt))


def _solve(facts: SamePitchOtherClef) -> tuple[Answer, ...]:
    pitches = _pitches(facts)
    reason = f"These are the same notes in the same octave: {', '.join(p.name.text for p in pitches)}."
    return (answer(_value(facts, pitches), _text(facts, pitches), reason),)


def _slips(facts: SamePitchOtherClef) -> tuple[Slip, ...]:
    pitches, clef, other = _pitches(facts), CLEFS[facts.clef], CLEFS[facts.other]
    found: list[Slip] = []

    def add(name: str, wrong: tuple[Pitch, ...], remedy: str, *, signs: bool = True, steady: bool = True) -> None:
        found.append(slip(name, _value(facts, wrong, signs=signs), _text(facts, wrong), remedy, steady=steady))

    kept = tuple(other.pitch_at(clef.place(p), p.alter) for p in pitches)
    add("kept the line", kept, f"The {facts.other} clef names its lines afresh: name each note first, then place it.")
    middle_c = "Find middle C in both clefs and count from it to your note."
    ways = sorted((1, -1), key=lambda way: _ledgers(facts.other, pitches[0].shifted(way)))
    for way in ways:
        moved = tuple(p.shifted(way) for p in pitches)
        add(f"an octave too {'high' if way > 0 else 'low'}", moved, middle_c)
    if facts.other in _MIXED_UP:
        wrong = CLEFS[_MIXED_UP[facts.other]]
        mixed = tuple(other.pitch_at(wrong.place(p), p.alter) for p in pitches)
        add(
            f"written for the {wrong.name} clef",
            mixed,
            f"The {facts.other} clef has middle C {where(2 * other.line - 2)}.",
        )
    if any(one.accidental for one in facts.notes):
        bare = tuple(p.altered(-p.alter) for p in pitches)
        add("signs left out", bare, "Copy each sign with its note.", signs=False)
    one_up = (Pitch.from_diatonic(pitches[0].diatonic + 1, pitches[0].alter), *pitches[1:])
    add("one place too high", one_up, "Count each line and each space, one at a time.", steady=False)
    return tuple(sorted(found, key=lambda one: _far(facts, one)))


def _far(facts: SamePitchOtherClef, one: Slip) -> bool:
    """Whether a wrong answer runs so far off the stave that no pupil would pick it: such ones come last."""
    notes = one.value[0].notes or ()
    return any(_ledgers(facts.other, Pitch(note.step, 0, note.octave)) > _MOST_LEDGERS for note in notes)


def _ledgers(clef: str, pitch: Pitch) -> int:
    return abs(CLEFS[clef].ledger_lines(pitch))


def _work(facts: SamePitchOtherClef, method: str) -> tuple[Step, ...]:
    pitches, clef, other = _pitches(facts), CLEFS[facts.clef], CLEFS[facts.other]
    ids = tuple(f"n{i}" for i in range(1, len(pitches) + 1))
    names = ", ".join(p.name.text for p in pitches)
    middle = [where(one.place(Pitch("C", 0, 4))) for one in (clef, other)]
    first = pitches[0]
    away = first.diatonic - Pitch("C", 0, 4).diatonic
    if away:
        side = "above" if away > 0 else "below"
        count = f"The first note is {abs(away)} {'place' if abs(away) == 1 else 'places'} {side} middle C"
    else:
        count = "The first note stands where middle C does"
    return (
        Step(f"Name the notes in the {facts.clef} clef: {names}.", ids, names),
        Step(
            f"Middle C stands {middle[0]} in the {facts.clef} clef, and {middle[1]} in the {facts.other} clef.", (), "C"
        ),
        Step(f"{count}, so it stands {where(other.place(first))} in the {facts.other} clef.", ids[:1]),
        Step(f"Place the others in the same way and copy the signs: {_text(facts, pitches)}.", ids[1:]),
        Step(
            f"Check from the {ordinal(other.line)} line, which the {facts.other} clef names: the letters to the first "
            f"note are {spelling(facts.other, other.place(first))}."
        ),
    )


def _draw(facts: SamePitchOtherClef, value: Value) -> Score:
    return note_row(value, facts.other)


def _difficulty(facts: SamePitchOtherClef) -> float:
    """The C clefs, ledger lines on either stave and signs to copy add up (common practice)."""
    clefs = {"treble": 0.0, "bass": 0.1, "alto": 0.4, "tenor": 0.5}
    ledgers = max(max(_ledgers(facts.clef, p), _ledgers(facts.other, p)) for p in _pitches(facts))
    signs = sum(one.accidental is not None for one in facts.notes)
    return -0.6 + clefs[facts.clef] + clefs[facts.other] + 0.2 * min(ledgers, _MOST_LEDGERS) + 0.1 * min(signs, 3)


KIND = Kind(
    id="same-pitch-other-clef",
    topic="notes",
    since=3,
    title="Same pitch, other clef",
    facts=SamePitchOtherClef,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"same-pitch-other-clef/{facts.clef}-{facts.other}",
    pool=lambda scope: None,
    seconds=75,
    marking=Marking("per-item"),
    marks=3,
    draw=_draw,
)
