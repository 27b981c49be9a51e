"""A tiny source of melodies for tests: plain steps and skips in the scope, ending on the tonic."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from stavewright.questions.melodies import Extract, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

CELLS = {
    1: (("crotchet",), ("quaver", "quaver"), ("quaver.", "semiquaver"), ("semiquaver", "semiquaver", "quaver")),
    2: (("minim",), ("crotchet.", "quaver"), ("quaver", "crotchet", "quaver"), ("crotchet", "crotchet")),
}


class TinyMelodies:
    def melody(self, scope: Scope, rng: Random, *, bars=4, clef=None, key=None, provable=True) -> Extract | None:
        key = key or rng.choice(scope.keys)
        clef = clef or rng.choice(scope.clefs)
        beats = rng.choice((2, 3, 4))
        time = TimeSignature(beats, 4)
        low, high = scope.range_of(clef)
        tonic = next(
            Pitch.from_diatonic(d, key.tonic.alter)
            for d in range(low.diatonic + 3, low.diatonic + 10)
            if Pitch.from_diatonic(d).step == key.tonic.step
        )
        written: list[Bar] = []
        place = tonic.diatonic
        dynamics = ("p", "mf", "f", "pp")
        for index in range(bars):
            events: list[Note] = []
            left, group = beats, 0
            last = index == bars - 1
            if index and not last and rng.random() < 0.3:
                rhythm = [(note.duration, note.beam) for note in written[-1].events]
            else:
                rhythm = []
                while left:
                    size = rng.choice((1, 2)) if left >= 2 else 1
                    if last:
                        size = min(size, 2 if left > 2 else 1)
                    cell = rng.choice(CELLS[size]) if not (last and left == 1) else ("crotchet",)
                    if 3 in scope.tuplets and size == 1 and not last and rng.random() < 0.15:
                        group += 1
                        rhythm += [(Duration("quaver", 0, Tuplet(3, 2)), group)] * 3
                    else:
                        short = all(v.rstrip(".") in ("quaver", "semiquaver") for v in cell)
                        group += short
                        rhythm += [(Duration(v.rstrip("."), v.count(".")), group if short else None) for v in cell]
                    left -= size
            for duration, beam in rhythm:
                place += rng.choice((-2, -1, -1, 0, 1, 1, 2, 3, -3))
                place = min(max(place, low.diatonic), high.diatonic)
                natural = Pitch.from_diatonic(place)
                events.append(
                    Note(Pitch(natural.step, key.alter_of(natural.step), natural.octave), duration, beam=beam)
                )
            if last:
                if key.is_minor:
                    leading = tonic.diatonic - 1
                    below = Pitch.from_diatonic(leading)
                    events[-2] = replace(events[-2], pitch=Pitch(below.step, key.leading_note.alter, below.octave))
                events[-1] = replace(events[-1], pitch=tonic, duration=Duration("crotchet"))
            directions = ()
            if rng.random() < 0.5:
                directions = (Direction("dynamic", 0, rng.choice(dynamics)),)
            elif len(events) > 1 and rng.random() < 0.5:
                directions = (Direction(rng.choice(("crescendo", "diminuendo")), 0, until=len(events) - 1),)
            if index == 0:
                directions = (Direction("tempo", 0, "Andante"), *directions)
            written.append(Bar((tuple(events),), line="final" if last else "single", directions=directions))
        stave = Stave(clef, tuple(written), fifths=key.fifths, time=time)
        score = with_ids(with_accidentals(_tied(Score((stave,), numbered=True), rng)))
        return Extract(score, key, "Composed for these tests")


def _tied(score: Score, rng: Random) -> Score:
    """Tie a note over a bar line now and then where the pitch stays the same."""
    stave = score.staves[0]
    bars = list(stave.bars)
    for index in range(len(bars) - 1):
        here, after = bars[index].events, bars[index + 1].events
        if rng.random() < 0.3 and index + 2 < len(bars):
            bars[index + 1] = replace(bars[index + 1], voices=((replace(after[0], pitch=here[-1].pitch), *after[1:]),))
            bars[index] = replace(bars[index], voices=((*here[:-1], replace(here[-1], tie=True)),))
    return replace(score, staves=(replace(stave, bars=tuple(bars)),))


def stimulus(
    scope: Scope, seed: int, *, key: Key | None = None, key_part: str | None = None, bars: int = 4
) -> Stimulus:
    extract = TinyMelodies().melody(scope, Random(f"{seed}"), key=key, bars=bars)
    return Stimulus(extract, document_of(extract.score), key_part=key_part)
