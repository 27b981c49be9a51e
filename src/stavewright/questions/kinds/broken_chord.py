"""Go on with the pattern of a broken tonic chord, each group from the next note of the chord."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.setting.scales import spelled_notes
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.showing.filled import filled
from stavewright.questions.solving.arpeggios import climb, tonic_names
from stavewright.questions.solving.scales import names_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, KeyText, LowOctave
from stavewright.score.event import Event, Gap, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

_PATTERNS = ((0, 1, 2), (0, 2, 1), (2, 1, 0), (0, 1, 2, 1), (0, 2, 1, 2), (0, 1, 2, 3), (3, 2, 1, 0))
# One group fills a bar. Patterns of three and of four in quavers and in crotchets.
_TIMES = {("quaver", 3): "3/8", ("quaver", 4): "2/4", ("crotchet", 3): "3/4", ("crotchet", 4): "4/4"}
_SHOWN = 2
_THIRDS = (0, 2, 4)
_TRIES = 12
_BELOW = 1
"""Octaves of the ladder below the lowest tonic, for patterns that go wrong."""


class BrokenChord(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, the octave of the lowest tonic, and a pattern of rungs on the ladder of its tonic chord.

    `pattern` counts rungs from the first note of a group (0 is its lowest). Each group begins a rung higher than the
    one before, or lower; the first `shown` of `groups` groups are printed. Each group fills one bar.

    Raises:
        BadDocument: nothing is left to write, or the value and the pattern fill no bar.
    """

    clef: ClefName
    key: KeyText
    octave: LowOctave
    pattern: Annotated[tuple[Annotated[int, Meta(ge=0, le=4)], ...], Meta(min_length=3, max_length=4)]
    up: bool
    signature: bool
    value: Annotated[str, Meta(pattern=r"^(quaver|crotchet)\Z", max_length=8)] = "quaver"
    shown: Annotated[int, Meta(ge=2, le=4)] = _SHOWN
    groups: Annotated[int, Meta(ge=3, le=6)] = 3

    def __post_init__(self) -> None:
        if self.shown >= self.groups:
            raise BadDocument(f"{self.shown} of {self.groups} groups are printed: leave at least one to write")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        key, clef, pattern = pick_key(scope, rng), pick_clef(scope, rng), rng.choice(_PATTERNS)
        values = [value for value in ("quaver", "crotchet") if _TIMES[value, len(pattern)] in scope.times]
        if key is None or not values:
            return None
        groups, up = _SHOWN + rng.choice((1, 1, 2)), rng.random() < 0.65
        low, high = scope.range_of(clef)
        rungs = groups - 1 + max(pattern)
        top = 7 * (rungs // 3) + _THIRDS[rungs % 3]
        octaves = [
            octave
            for octave in range(7)
            if low.diatonic <= 7 * octave + key.tonic.index and 7 * octave + key.tonic.index + top <= high.diatonic
        ]
        if not octaves:
            continue
        scale = spelled_notes(key.tonic, "natural minor" if key.is_minor else "major", "up")
        first = 0 if up else groups - 1
        meant = [
            scale[_THIRDS[(first + (group if up else -group) + rung) % 3]]
            for group in range(_SHOWN, groups)
            for rung in pattern
        ]
        signature = bool(key.fifths) and rng.random() < 0.6
        facts = BrokenChord(
            clef, key.text, rng.choice(octaves), pattern, up, signature, rng.choice(values), _SHOWN, groups
        )
        return Draft(facts, " ".join(meant))
    return None


def _groups(facts: BrokenChord, *, skip: int = 1, pattern: tuple[int, ...] = ()) -> tuple[tuple[Pitch, ...], ...]:
    """Every group in turn; `skip` rungs from one to the next of those the pupil writes, in the shape of `pattern`."""
    ladder = climb(tonic_names(Key.parse(facts.key)), facts.octave - _BELOW, 3 * (_BELOW + facts.groups))
    rung = 3 * _BELOW + (0 if facts.up else facts.groups - 1)
    found = []
    for group in range(facts.groups):
        if group:
            rung += (1 if facts.up else -1) * (skip if group >= facts.shown else 1)
        shape = pattern if pattern and group >= facts.shown else facts.pattern
        found.append(tuple(ladder[max(rung, 0) + step] for step in shape))
    return tuple(found)


def _score(facts: BrokenChord, groups: tuple[tuple[Pitch, ...], ...], *, gaps: bool = False) -> Score:
    """The groups, one a bar; with `gaps` those to be written are left empty."""
    length, count = Duration(facts.value), 0
    beam = 1 if facts.value == "quaver" else None
    bars: list[Bar] = []
    for number, group in enumerate(groups):
        row: list[Event] = []
        for pitch in group:
            count += 1
            empty = gaps and number >= facts.shown
            row.append(Gap(length, f"g{count}") if empty else Note(pitch, length, f"n{count}", beam=beam))
        line = "final" if number == len(groups) - 1 else "single"
        bars.append(Bar((tuple(row),), line=line, free=len(group) != len(facts.pattern)))
    key = Key.parse(facts.key)
    time = TimeSignature.parse(_TIMES[facts.value, len(facts.pattern)])
    stave = Stave(facts.clef, tuple(bars), key.fifths if facts.signature else None, time)
    return with_accidentals(Score((stave,)))


def _value(facts: BrokenChord, groups: tuple[tuple[Pitch, ...], ...]) -> Value:
    """What the pupil writes of a row of groups."""
    bars = _score(facts, groups).staves[0].bars[facts.shown :]
    notes = [event for bar in bars for event in bar.events if isinstance(event, Note)]
    size = len(facts.pattern)
    return Value(
        notes=tuple(
            WrittenNote(n.pitch.step, octave=n.pitch.octave, type=facts.value, accidental=n.accidental) for n in notes
        ),
        clef=facts.clef,
        signature=Key.parse(facts.key).fifths if facts.signature else None,
        bar_lines=tuple(size * number for number in range(1, len(bars))),
    )


def _text(facts: BrokenChord, groups: tuple[tuple[Pitch, ...], ...]) -> str:
    return names_of([pitch for group in groups[facts.shown :] for pitch in group])


def _pose(facts: BrokenChord, wording: Wording) -> Posed:
    left = facts.groups - facts.shown
    bars = "bar" if left == 1 else "two bars"
    given = _score(facts, _groups(facts), gaps=True)
    alt = wording.say(spoken_extract(given))
    head = f"This is a broken chord: the tonic chord of {facts.key}."
    if wording.choosing:
        ask = f"{head} Which answer goes on with the pattern in the last {bars}?"
        return Posed((TextBlock(wording.say(ask)), StaveBlock(document_of(given), alt)))
    how = "" if facts.signature or not Key.parse(facts.key).fifths else " Write the accidentals it needs."
    ask = f"{head} Go on with the pattern: write the notes of the last {bars}.{how}"
    count = left * len(facts.pattern)
    return Posed((TextBlock(wording.say(ask)),), NotesForm(document_of(given), count, (facts.value,), alt=alt))


def _solve(facts: BrokenChord) -> tuple[Answer, ...]:
    groups = _groups(facts)
    chord = ", ".join(name.text for name in tonic_names(Key.parse(facts.key)))
    way = "up" if facts.up else "down"
    why = f"All notes belong to the chord {chord}; each group begins on the next note of the chord, going {way}."
    return (answer(_value(facts, groups), _text(facts, groups), why),)


def _moved_by_step(facts: BrokenChord) -> tuple[tuple[Pitch, ...], ...]:
    key, groups = Key.parse(facts.key), list(_groups(facts)[: facts.shown])
    for _ in range(facts.shown, facts.groups):
        bare = [Pitch.from_diatonic(pitch.diatonic + (1 if facts.up else -1)) for pitch in groups[-1]]
        groups.append(tuple(pitch.altered(key.alter_of(pitch.step)) for pitch in bare))
    return tuple(groups)


def _slips(facts: BrokenChord) -> tuple[Slip, ...]:
    right = _groups(facts)
    shown = right[: facts.shown]
    left = facts.groups - facts.shown
    chord = ", ".join(name.text for name in tonic_names(Key.parse(facts.key)))
    found: list[Slip] = []

    def add(name: str, groups: tuple[tuple[Pitch, ...], ...], remedy: str) -> None:
        found.append(slip(name, _value(facts, groups), _text(facts, groups), remedy, steady=True))

    only = f"Only the notes {chord} may come: climb from one to the next."
    add("pattern moved by step", _moved_by_step(facts), only)
    add("last group written again", (*shown, *(shown[-1:] * left)), "Each group begins on the next note of the chord.")
    turn = "Look at the first notes of the groups: do they go up or down?"
    back = tuple(shown[max(-2 - number, -facts.shown)] for number in range(left))
    add("went back", (*shown, *back), turn)
    add("a chord note skipped", _groups(facts, skip=2), "Begin each group on the very next note of the chord.")
    shape = "Copy the shape of the first group: which note is lowest, which comes next?"
    add("group turned round", _groups(facts, pattern=facts.pattern[::-1]), shape)
    if not facts.signature:
        bare = tuple(tuple(pitch.altered(-pitch.alter) for pitch in group) for group in right)
        signs = "Write every sign of the chord again in each bar and each octave."
        add("signs left out", (*shown, *bare[facts.shown :]), signs)
    return tuple(found)


def _work(facts: BrokenChord, method: str) -> tuple[Step, ...]:
    key, groups = Key.parse(facts.key), _groups(facts)
    chord = tonic_names(key)
    size = len(facts.pattern)
    lowest = [min(group, key=lambda pitch: pitch.midi).name.text for group in groups]
    ids = tuple(f"n{number}" for number in range(1, size + 1))
    written = ", ".join(lowest[: facts.shown])
    way = "up" if facts.up else "down"
    return (
        Step(
            f"The tonic chord of {key.text} is {', '.join(name.text for name in chord)}.",
            ids,
            " ".join(n.short for n in chord),
        ),
        Step(f"Find the lowest note of each group: {written}. They go {way} the chord, one note at a time.", (), ""),
        Step(
            f"So the lowest notes go on with {', '.join(lowest[facts.shown :])}.", (), " ".join(lowest[facts.shown :])
        ),
        Step(f"Keep the shape of the first group, {names_of(groups[0])}: {_text(facts, groups)}.", ids, ""),
        Step("Check: every note is a note of the chord, and none moves by a step to its neighbour.", (), ""),
    )


def _draw(facts: BrokenChord, value: Value) -> Score:
    drawn = filled(_score(facts, _groups(facts), gaps=True), value.notes or ())
    if facts.value != "quaver":
        return drawn
    stave = drawn.staves[0]
    bars = tuple(
        replace(bar, voices=(tuple(replace(one, beam=1) if isinstance(one, Note) else one for one in bar.events),))
        for bar in stave.bars
    )
    return replace(drawn, staves=(replace(stave, bars=bars),))


def _difficulty(facts: BrokenChord) -> float:
    """Coming down, shapes that turn, minor, more signs, own accidentals, C clefs (common practice)."""
    key = Key.parse(facts.key)
    plain = list(facts.pattern) == sorted(facts.pattern)
    return (
        -0.9
        + 0.2 * (not facts.up)
        + 0.2 * (not plain)
        + 0.08 * abs(key.fifths)
        + 0.2 * key.is_minor
        + 0.1 * (not facts.signature)
        + 0.3 * (facts.clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="broken-chord",
    topic="chords",
    since=2,
    title="Go on with a broken chord",
    facts=BrokenChord,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"broken-chord/{'up' if facts.up else 'down'} {Key.parse(facts.key).mode}",
    pool=lambda scope: None,
    seconds=60,
    marking=Marking("minus-one-per-fault"),
    marks=2,
    draw=_draw,
    shows=lambda facts: frozenset({f"signature:{facts.key}"} if facts.signature else ()),
)
