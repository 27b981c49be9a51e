"""Composed melodies keep the rules of docs/composing.md: each test's docstring is one of them."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from random import Random

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from composing.looking import Case, compose
from stavewright.composing.errors import CannotCompose
from stavewright.composing.ground import ground_of
from stavewright.composing.line import TRIAD
from stavewright.composing.melody import WANTS, compose_melody
from stavewright.composing.plan import plan_bars
from stavewright.composing.rhythm import Means, rhythm_on
from stavewright.composing.shaping import shape
from stavewright.composing.spelling import raised, singable
from stavewright.score.check import faults
from stavewright.score.event import Note, Rest
from stavewright.theory.degree import degree_number
from stavewright.theory.grouping import is_accepted
from stavewright.theory.interval import between
from stavewright.theory.key import ALL_KEYS, Key
from stavewright.theory.key_proof import prove_key
from stavewright.theory.metre import ALL_TIMES, TimeSignature
from stavewright.theory.pitch import Pitch

seeds = st.integers(0, 100_000)
few = settings(max_examples=40, deadline=None)
C4, A5 = Pitch.parse("C4"), Pitch.parse("A5")


def steps(case: Case) -> list[tuple[int, int]]:
    """Each move inside a phrase as (index of the note reached, letters moved, up counted positive)."""
    sounds = case.sounds
    return [
        (index, sounds[index].pitch.diatonic - sounds[index - 1].pitch.diatonic)
        for index in range(1, len(sounds))
        if index != case.breath
    ]


@few
@given(seeds)
def test_notation(seed: int) -> None:
    """A melody has no fault of notation: bars add up, signs are those the pitches need, ids are unique."""
    score = compose(seed).score
    assert faults(score) == []
    assert [event.id for event in score.events()] == [f"n{place}" for place, _ in enumerate(score.events(), 1)]
    assert score.staves[0].bars[-1].line == "final"


@few
@given(seeds)
def test_key(seed: int) -> None:
    """The notes prove the key: it ends on the tonic, a minor key has its raised 7th, a major key nothing foreign."""
    case = compose(seed)
    key = case.melody.key
    assert prove_key([sound.pitch for sound in case.sounds], key.fifths).key == key
    assert case.score.staves[0].fifths == key.fifths


@few
@given(seeds)
@example(48224)  # an irregular bar whose first group is the short one
@example(1094)
def test_end(seed: int) -> None:
    """The last note is the tonic, held for half its bar or more and reached by step."""
    case = compose(seed)
    before, last = case.sounds[-2:]
    assert last.pitch.name == case.melody.key.tonic
    assert abs(last.pitch.diatonic - before.pitch.diatonic) == 1
    assert 2 * last.ticks >= case.time.ticks - case.pickup
    assert last.start == 0


@few
@given(seeds)
@example(1107)  # the highest note struck twice
def test_climax(seed: int) -> None:
    """One note alone is the highest, neither the first nor the last, and not the leading note."""
    case = compose(seed)
    heights = [sound.pitch.midi for sound in case.sounds]
    top = max(heights)
    assert heights.count(top) == 1
    assert top not in (heights[0], heights[-1])
    assert case.sounds[heights.index(top)].pitch.name != case.melody.key.leading_note


@few
@given(seeds, st.sampled_from((4, 8)))
def test_half_close(seed: int, bars: int) -> None:
    """The question ends on a note of the dominant chord, and no note of its bar is longer."""
    case = compose(seed, bars)
    assert case.breath is not None
    held = case.sounds[case.breath - 1]
    assert degree_number(held.pitch, case.melody.key) in (5, 7, 2)
    assert held.ticks == max(sound.ticks for sound in case.sounds if sound.bar == held.bar)


@few
@given(seeds, st.sampled_from((4, 8)))
def test_answer(seed: int, bars: int) -> None:
    """The answer takes up the rhythm of the opening bar."""
    case = compose(seed, bars)
    rows = [[event.duration for event in bar.events] for bar in case.score.staves[0].bars]
    first = bool(case.pickup)
    assert rows[first] == rows[first + bars // 2]


def test_period() -> None:
    """Eight bars often begin their answer with the first two bars note for note, and not always."""
    same = 0
    for seed in range(60):
        case = compose(seed, 8)
        rows = [[(s.pitch, s.start) for s in case.sounds if s.bar == bar + bool(case.pickup)] for bar in range(8)]
        same += rows[0] == rows[4] and rows[1] == rows[5]
    assert 20 <= same < 60


@few
@given(seeds, st.sampled_from(ALL_TIMES), st.sampled_from((2, 4, 8)), st.booleans(), st.booleans())
def test_chord_notes(seed: int, time: TimeSignature, bars: int, minor: bool, pick: bool) -> None:
    """Heavy beats carry notes of the implied chord; any other note is reached and left by step."""
    rng = Random(seed)
    for _ in range(400):
        plans = plan_bars(bars, rng)
        ground = ground_of(plans, rhythm_on(plans, time, Means(rests=True), rng, anacrusis=pick))
        shaped = shape(ground, -4, 9, minor, frozenset(), rng)
        if shaped is not None:
            break
    else:
        raise AssertionError("no line in 400 tries")
    line = shaped.steps
    for index, (step, place) in enumerate(zip(line, ground.places, strict=True)):
        if step % 7 in TRIAD[place.root]:
            continue
        assert place.weight < 2
        if index and index not in shaped.breaths:
            assert abs(step - line[index - 1]) == 1
        if index + 1 not in shaped.breaths:
            assert abs(step - line[index + 1]) == 1


def test_steps() -> None:
    """Most moves are by step."""
    sizes = Counter(abs(move) for seed in range(80) for _, move in steps(compose(seed)))
    assert sizes[1] > 0.55 * sizes.total()
    assert sum(count for size, count in sizes.items() if size > 2) < 0.15 * sizes.total()


@few
@given(seeds)
def test_leaps_turn(seed: int) -> None:
    """A leap of a fourth or more is turned back by step, unless a phrase begins with it."""
    case = compose(seed)
    moves = dict(steps(case))
    for index, move in moves.items():
        if abs(move) >= 3 and index + 1 in moves:
            after = moves[index + 1]
            assert abs(after) == 1, (index, move, after)
            assert after * move < 0


@few
@given(seeds)
def test_wide_leaps(seed: int) -> None:
    """A leap wider than a fifth rises, and none is wider than an octave."""
    assert all(-4 <= move <= 7 for _, move in steps(compose(seed)))


@few
@given(seeds)
def test_intervals(seed: int) -> None:
    """No move is augmented or diminished."""
    case = compose(seed)
    sounds = case.sounds
    for one, other in pairwise(sounds):
        assert between(one.pitch, other.pitch).quality in ("P", "M", "m")


@few
@given(seeds)
def test_no_dwelling(seed: int) -> None:
    """No pitch sounds three times running, and no two notes shake to and fro."""
    case = compose(seed)
    line = [sound.pitch.diatonic for sound in case.sounds]
    for index in range(2, len(line)):
        if case.breath not in (index - 1, index):
            assert not line[index] == line[index - 1] == line[index - 2]
        if index > 2 and case.breath not in (index - 2, index - 1, index) and line[index] != line[index - 1]:
            assert line[index - 3 : index - 1] != line[index - 1 : index + 1]


# Steps from the tonic, chord roots, and which are raised. Gehrkens, Music Notation and Terminology (1914) §86 (melodic
# minor); the raised 7th over the dominant, common practice.
@pytest.mark.parametrize(
    "line, roots, expected",
    [
        ([4, 5, 6, 7], [0, 0, 0, 0], "nyyn"),
        ([7, 6, 5, 4], [0, 0, 0, 0], "nnnn"),
        ([7, 6, 7], [0, 0, 0], "nyn"),
        ([4, 5, 4], [0, 0, 0], "nnn"),
        ([4, 6, 4], [4, 4, 4], "nyn"),
        ([0, -1, -2, -3], [0, 3, 3, 4], "nnnn"),
        ([0, -1, -2, -3], [4, 4, 4, 4], "nyyn"),
    ],
)
def test_melodic_minor(line: list[int], roots: list[int], expected: str) -> None:
    """A minor melody raises its 6th and 7th where they rise to the tonic, and leaves them where they fall."""
    assert "".join("y" if up else "n" for up in raised(line, roots)) == expected


# Common practice: an augmented 2nd, an augmented 4th, a 7th, and a note altered in passing sound false in a tune.
@pytest.mark.parametrize(
    "row, good",
    [
        ("A4 B4 C5 E5", True),
        ("F4 G#4", False),
        ("F4 B4", False),
        ("G4 F5", False),
        ("Bb4 A4 B4", False),
        ("D4 D5", True),
    ],
)
def test_singable(row: str, good: bool) -> None:
    """A line is singable when no move is augmented, diminished or a 7th, and no note comes back altered at once."""
    assert singable([Pitch.parse(note) for note in row.split()]) is good


@few
@given(seeds)
def test_range(seed: int) -> None:
    """Every note lies in the range given."""
    case = compose(seed)
    assert all(case.low.diatonic <= sound.pitch.diatonic <= case.high.diatonic for sound in case.sounds)


@few
@given(seeds)
def test_beams(seed: int) -> None:
    """Beams are the usual ones of the metre."""
    case = compose(seed)
    for number, bar in enumerate(case.score.staves[0].bars):
        events = [(event.duration, isinstance(event, Rest)) for event in bar.events]
        beams = [event.beam if isinstance(event, Note) else None for event in bar.events]
        start = case.time.ticks - case.pickup if case.pickup and number == 0 else 0
        assert is_accepted(beams, events, case.time, start=start).accepted


@settings(max_examples=12, deadline=None)
@given(seeds, st.sampled_from(("sequence", "scale-run", "syncopation", "triplet")), st.sampled_from((4, 8)))
def test_wanted(seed: int, want: str, bars: int) -> None:
    """A sequence, a scale run, a syncopation or a triplet is there when it is wanted."""
    case = compose(seed, bars, wanted=(want,), time=TimeSignature(4, 4), anacrusis=False)
    sounds = case.sounds
    if want == "sequence":
        first, second = ([s.pitch.diatonic for s in sounds if s.bar == bar] for bar in (0, 1))
        assert len(first) == len(second)
        assert len({b - a for a, b in zip(first, second, strict=True)} - {0}) == 1
    elif want == "scale-run":
        moves = [b.pitch.diatonic - a.pitch.diatonic for a, b in pairwise(sounds)]
        assert any(moves[at : at + 4] in ([1] * 4, [-1] * 4) for at in range(len(moves)))
    elif want == "syncopation":
        beat = TimeSignature(4, 4).beat.ticks
        assert any(s.start % beat and s.start % beat + s.ticks > beat and s.ticks >= beat for s in sounds)
    else:
        assert sum(note.duration.tuplet is not None for note in case.score.notes()) % 3 == 0
        assert any(note.duration.tuplet is not None for note in case.score.notes())


@settings(max_examples=15, deadline=None)
@given(seeds)
def test_same_seed(seed: int) -> None:
    """The same chance composes the same melody."""
    assert compose(seed).score == compose(seed).score


def test_every_key_and_time() -> None:
    """Every key of the thirty and every metre of the table can be composed in, in every clef's range."""
    ranges = {"treble": ("F3", "E6"), "alto": ("A2", "D5"), "tenor": ("F2", "B4"), "bass": ("A1", "G4")}
    for number, key in enumerate(ALL_KEYS):
        for place, time in enumerate(ALL_TIMES):
            clef = list(ranges)[(number + place) % 4]
            low, high = (Pitch.parse(end) for end in ranges[clef])
            made = compose_melody(
                Random(number), key=key, time=time, clef=clef, low=low, high=high, tuplets=(2, 3), rests=True
            )
            assert faults(made.score) == []


@pytest.mark.parametrize(
    "asked, says",
    [
        ({"bars": 1}, "2 to 32 bars"),
        ({"bars": 99}, "2 to 32 bars"),
        ({"high": Pitch.parse("F4")}, "a 10th or more"),
        ({"wanted": ("fugue",)}, ", ".join(WANTS)),
        ({"wanted": ("tuplet",)}, "another metre or value"),
        ({"wanted": ("sequence",), "bars": 2}, "4 bars or more"),
        ({"values": ("breve",)}, "allow more values"),
    ],
)
def test_refusals(asked: dict[str, object], says: str) -> None:
    """What cannot be composed is refused by name."""
    given_: dict[str, object] = {"key": Key.parse("C"), "time": TimeSignature(4, 4), "low": C4, "high": A5, **asked}
    with pytest.raises(CannotCompose, match=says):
        compose_melody(Random(1), **given_)  # type: ignore[arg-type]
