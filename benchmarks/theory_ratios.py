"""Theory against music21, from objects, music21 making a new object each time."""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from benchmarks.timing import best


class Ratio(NamedTuple):
    """One operation: how many times faster than music21, and the least that was asked."""

    what: str
    ratio: float
    floor: float
    ours_us: float


def ratios() -> list[Ratio]:
    """Interval naming, transposition, harmonic minor scale, key of a melody of 24 notes."""
    from music21 import interval, key, note, pitch, scale, stream

    from stavewright.theory.interval import Interval, between
    from stavewright.theory.key_proof import prove_key
    from stavewright.theory.pitch import NoteName, Pitch
    from stavewright.theory.scale import scale_names
    from stavewright.theory.transposition import transpose

    rng = Random("benchmark")
    steps = "CDEFGAB"
    pairs = []
    for _ in range(200):
        low, high = (
            Pitch(rng.choice(steps), rng.randint(-1, 1), octave) for octave in (rng.randint(3, 4), rng.randint(5, 5))
        )
        pairs.append((low, high))
    theirs = [tuple(pitch.Pitch(p.short.replace("b", "-")) for p in pair) for pair in pairs]
    third, other_third = Interval("m", 3), interval.Interval("m3")
    tonics = [NoteName(step, alter) for step in "CDEFGAB" for alter in (0, 1)][:12]
    their_tonics = [pitch.Pitch(tonic.short + "4") for tonic in tonics]
    melody = [
        Pitch.parse(text)
        for text in "G4 A4 B4 C5 D5 E5 F#5 G5 F#5 E5 D5 C5 B4 A4 G4 F#4 G4 B4 D5 G5 D5 B4 A4 G4".split()
    ]
    their_melody = stream.Part()
    for one in melody:
        their_melody.append(note.Note(one.short))

    def ours_interval() -> None:
        for low, high in pairs:
            _ = between(low, high).short

    def theirs_interval() -> None:
        for low, high in theirs:
            _ = interval.Interval(low, high).name

    def ours_transpose() -> None:
        for low, _ in pairs:
            transpose(low, third)

    def theirs_transpose() -> None:
        for low, _ in theirs:
            low.transpose(other_third)

    def ours_scale() -> None:
        for tonic in tonics:
            scale_names(tonic, "harmonic minor")

    def theirs_scale() -> None:
        for tonic in their_tonics:
            scale.HarmonicMinorScale(tonic).getPitches()

    def ours_key() -> None:
        prove_key(melody, 1)

    def theirs_key() -> key.Key:
        return their_melody.analyze("key")

    rows = [
        ("naming an interval", ours_interval, theirs_interval, 200, 10),
        ("transposing a note", ours_transpose, theirs_transpose, 200, 20),
        ("a harmonic minor scale", ours_scale, theirs_scale, 12, 50),
        ("the key of a melody of 24 notes", ours_key, theirs_key, 1, 100),
    ]
    found = []
    for what, ours, others, calls, floor in rows:
        mine = best(ours, number=20) / calls
        theirs_s = best(others, repeat=3) / calls
        found.append(Ratio(what, theirs_s / mine, floor, mine * 1e6))
    return found
