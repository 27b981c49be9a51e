"""Bars of Bach chorales from music21's corpus: rhythms, bar lines and beams that we did not write."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from music21 import corpus, note, stream

from questions.rhythms import AMERICAN
from stavewright.questions.values import WrittenValue
from stavewright.theory.metre import TimeSignature

CHORALES = (
    "bwv269", "bwv347", "bwv153.1", "bwv86.6", "bwv267", "bwv17.7", "bwv41.6", "bwv65.2", "bwv33.6", "bwv277", "bwv311",
    "bwv302", "bwv148.6", "bwv20.11", "bwv256", "bwv305",
)  # fmt: skip
_OURS = {theirs: ours for ours, theirs in AMERICAN.items()}


@dataclass(frozen=True)
class Part:
    """One voice of a chorale: its time signature and its bars, the upbeat first."""

    name: str
    time: str
    bars: tuple[tuple[WrittenValue, ...], ...]

    @property
    def strain(self) -> tuple[tuple[WrittenValue, ...], ...]:
        """The bars to the end of the first strain: to the first bar after the upbeat that is not full."""
        full = TimeSignature.parse(self.time).ticks
        lengths = [sum(one.duration.ticks for one in bar) for bar in self.bars]
        end = next((at for at, length in enumerate(lengths) if at and length != full), len(lengths) - 1)
        return self.bars[: end + 1]


@cache
def parts(voices: int = 1) -> tuple[Part, ...]:
    """So many voices of every chorale, from the top."""
    return tuple(_part(name, part) for name in CHORALES for part in corpus.parse(f"bach/{name}").parts[:voices])


def _part(name: str, part: stream.Part) -> Part:
    measures = list(part.getElementsByClass(stream.Measure))
    return Part(name, measures[0].timeSignature.ratioString, tuple(_bar(one) for one in measures))


def _bar(measure: stream.Measure) -> tuple[WrittenValue, ...]:
    row = []
    number = 0
    for one in measure.notesAndRests:
        beams = one.beams.beamsList if isinstance(one, note.NotRest) else []
        first = beams[0].type if beams else None
        number += first == "start"
        tied = one.tie is not None and one.tie.type in ("start", "continue")
        row.append(
            WrittenValue(
                _OURS[one.duration.type], one.duration.dots, rest=one.isRest, tie=tied, beam=number if first else None
            )
        )
    return tuple(row)
