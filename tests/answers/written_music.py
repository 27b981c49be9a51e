"""Music inside hand-made entries: { music = "C4/1 D4/q | ...", time = "3/4" } stands for a whole score document.

A "(" after a value begins a slur and a ")" ends it. `clef`, `fifths` (0 unless said), `unsigned` true for no signature
at all, `anacrusis` and `signs` (each a list: bar index, kind, event index, text, last event index), `last` (the last
bar line) and `numbered` go with it; `stems` gives stems by the number of the note in the piece. `staves` gives several
staves, each "clef: voice" or "clef: upper voice ; lower voice", the two with stems up and down.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from questions.hand_written import event, extract
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.score.event import Event, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.metre import TimeSignature


def is_music(table: Mapping[str, Any]) -> bool:
    """Whether a table is music in the short form."""
    return isinstance(table.get("music"), str) or (bool(table.get("staves")) and isinstance(table["staves"][0], str))


def document(table: Mapping[str, Any]) -> ScoreDocument:
    """One table of music as a score document."""
    if "staves" in table:
        made = tuple(_stave(text, table["time"], table.get("fifths", 0)) for text in table["staves"])
        return document_of(with_ids(with_accidentals(Score(made, join="bracket"))))
    score = extract(
        table["music"],
        table["time"],
        table.get("fifths", 0),
        clef=table.get("clef", "treble"),
        anacrusis=table.get("anacrusis", False),
        signs={at: tuple(tuple(s[1:]) for s in table["signs"] if s[0] == at) for at, *_ in table.get("signs", [])},
    )
    if table.get("unsigned"):
        score = with_accidentals(replace(score, staves=(replace(score.staves[0], fifths=None),)))
    stems = {int(number): stem for number, stem in table.get("stems", {}).items()}
    bars = tuple(
        replace(bar, voices=tuple(tuple(_stemmed(one, stems.get(int(one.id[1:]))) for one in v) for v in bar.voices))
        for bar in score.staves[0].bars
    )
    if "last" in table:
        bars = (*bars[:-1], replace(bars[-1], line=table["last"]))
    stave = replace(score.staves[0], bars=bars)
    return document_of(replace(score, staves=(stave,), numbered=table.get("numbered", score.numbered)))


def _stave(text: str, time: str, fifths: int) -> Stave:
    clef, voices = text.split(":")
    rows = [[bar.split() for bar in voice.split("|")] for voice in voices.split(";")]
    stems = ("up", "down") if len(rows) == 2 else (None,)
    bars = []
    for index in range(len(rows[0])):
        made = tuple(
            tuple(_stemmed(event(one), stem) for one in row[index]) for row, stem in zip(rows, stems, strict=True)
        )
        bars.append(Bar(made, line="final" if index == len(rows[0]) - 1 else "single"))
    return Stave(clef, tuple(bars), fifths, TimeSignature.parse(time))


def _stemmed(one: Event, stem: str | None) -> Event:
    stemless = one.duration.type in ("semibreve", "breve")
    return replace(one, stem=stem) if isinstance(one, Note) and stem and not stemless else one
