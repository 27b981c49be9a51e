"""A score written out as a whole MusicXML 4.0 document.

The text is built directly: every word from outside goes through `escaped`, and the tests hold the result against
the published schema. The same score gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate
from math import gcd
from typing import Final

from stavewright.exchange.errors import CannotWrite
from stavewright.exchange.musicxml_names import CLEF_SIGNS
from stavewright.exchange.written_direction import Signs, place_signs
from stavewright.exchange.written_note import SLUR_ENDS, Pen, escaped, voice_elements
from stavewright.score.event import Chord, Note
from stavewright.score.stave import Bar, Bracket, Score, Stave
from stavewright.theory.duration import CROTCHET_TICKS
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

__all__ = ["to_musicxml"]

_HEAD: Final = '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0">\n'
_ENCODING: Final = (
    "<encoding><software>stavewright</software>"
    '<supports element="accidental" type="yes"/><supports element="beam" type="yes"/></encoding>'
)
_STYLES: Final = {
    "single": "",
    "double": "<bar-style>light-light</bar-style>",
    "final": "<bar-style>light-heavy</bar-style>",
    "repeat-end": "<bar-style>light-heavy</bar-style>",
    "none": "<bar-style>none</bar-style>",
}


def to_musicxml(score: Score, *, title: str = "", composer: str = "", rights: str = "") -> str:
    """Write a score as a MusicXML 4.0 document, one part a stave.

    A stave without a time signature is written in free time. A `Gap` becomes a ``forward``; a `label` is written as
    a lyric named "label". Pitches under an octave sign are named as they sound. Deterministic.

    Raises:
        CannotWrite: a pitch outside octaves 0 to 9, or a control character in a word.

    Source: W3C, MusicXML 4.0 (2021), score-partwise.

    >>> from stavewright.score.event import Note
    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> "<step>G</step>" in to_musicxml(single("treble", (Note(Pitch("G", 0, 4), Duration("semibreve")),)))
    True
    """
    scale = CROTCHET_TICKS
    for length in {event.duration for event in score.events()}:
        scale = gcd(scale, length.ticks)
    scale = gcd(scale, *_bar_lengths(score))
    rows = [_HEAD]
    if title:
        rows.append(f"<movement-title>{escaped(title)}</movement-title>\n")
    rows.append(_identification(composer, rights))
    rows.append(_part_list(score))
    ids: set[str] = set()
    for number, stave in enumerate(score.staves, 1):
        rows.append(f'<part id="P{number}">\n')
        rows.extend(_part(score, stave, number, Pen(scale, ids)))
        rows.append("</part>\n")
    rows.append("</score-partwise>\n")
    return "".join(rows)


def _bar_lengths(score: Score) -> set[int]:
    times = {stave.time for stave in score.staves if stave.time is not None}
    times.update(bar.time for stave in score.staves for bar in stave.bars if bar.time is not None)
    return {time.ticks for time in times}


def _identification(composer: str, rights: str) -> str:
    inside = f'<creator type="composer">{escaped(composer)}</creator>' if composer else ""
    if rights:
        inside += f"<rights>{escaped(rights)}</rights>"
    return f"<identification>{inside}{_ENCODING}</identification>\n"


def _part_list(score: Score) -> str:
    names = [f"<part-name{'' if stave.name else _UNSEEN}>{escaped(stave.name)}</part-name>" for stave in score.staves]
    parts = "".join(f'<score-part id="P{number}">{name}</score-part>' for number, name in enumerate(names, 1))
    if score.join in ("brace", "bracket"):
        symbol = f"<group-symbol>{score.join}</group-symbol>"
        parts = f'<part-group type="start" number="1">{symbol}</part-group>{parts}<part-group type="stop" number="1"/>'
    return f"<part-list>{parts}</part-list>\n"


_UNSEEN: Final = ' print-object="no"'


def _part(score: Score, stave: Stave, number: int, pen: Pen) -> list[str]:
    own = {event.id for bar in stave.bars for event in bar.events} if score.brackets else set()
    brackets: list[Bracket] = [one for one in score.brackets if one.first in own]
    signs = place_signs(stave.bars, brackets)
    rows: list[str] = []
    pen.named_slurs.update(_named_slurs(stave))
    time = stave.time
    for index, bar in enumerate(stave.bars):
        time = bar.time or time
        pick_up = score.anacrusis and index == 0
        rows.append(f'<measure number="{score.bar_number(index)}"{_IMPLICIT if pick_up else ""}>\n')
        if index == 0 and number == 1:
            rows.append(
                f"<print><measure-numbering>{'measure' if score.numbered else 'none'}</measure-numbering></print>\n"
            )
        rows.append(_attributes(stave, bar, index, pen.scale))
        rows.append(_left(stave, index))
        rows.extend(_voices(bar, index, time, signs, pen))
        rows.append(_right(stave, index))
        rows.append("</measure>\n")
    return rows


def _named_slurs(stave: Stave) -> Iterator[str]:
    for bar in stave.bars:
        for voice in bar.voices:
            for event in voice:
                if isinstance(event, Note | Chord) and event.slur and event.slur not in SLUR_ENDS:
                    yield event.slur


_IMPLICIT: Final = ' implicit="yes"'


def _attributes(stave: Stave, bar: Bar, index: int, scale: int) -> str:
    if index == 0:
        time = bar.time or stave.time
        key = _drawn_key(stave.signs) if stave.signs else _key(stave.fifths if bar.fifths is None else bar.fifths)
        return _attributes_xml(
            CROTCHET_TICKS // scale, key, time, bar.clef or stave.clef, stave.show_clef, time is None
        )
    if bar.clef is None and bar.fifths is None and bar.time is None:
        return ""
    return _attributes_xml(0, _key(bar.fifths), bar.time, bar.clef, shown=True, free=False)


def _key(fifths: int | None) -> str:
    return "" if fifths is None else f"<key><fifths>{fifths}</fifths></key>"


def _drawn_key(signs: tuple[Pitch, ...]) -> str:
    """A signature of single signs, each with the octave it is drawn in."""
    steps = "".join(f"<key-step>{sign.step}</key-step><key-alter>{sign.alter}</key-alter>" for sign in signs)
    octaves = "".join(f'<key-octave number="{n}">{sign.octave}</key-octave>' for n, sign in enumerate(signs, 1))
    return f"<key>{steps}{octaves}</key>"


@lru_cache(maxsize=512)
def _attributes_xml(
    divisions: int, key: str, time: TimeSignature | None, clef: str | None, shown: bool, free: bool
) -> str:
    inside = f"<divisions>{divisions}</divisions>{key}" if divisions else key
    if time is not None:
        symbol = f' symbol="{time.symbol}"' if time.symbol else ""
        inside += f"<time{symbol}><beats>{time.beats}</beats><beat-type>{time.unit}</beat-type></time>"
    elif free:
        inside += '<time print-object="no"><senza-misura/></time>'
    if clef is not None:
        sign, line = CLEF_SIGNS[clef]
        inside += f"<clef{'' if shown else _UNSEEN}><sign>{sign}</sign><line>{line}</line></clef>"
    return f"<attributes>{inside}</attributes>\n"


def _voices(bar: Bar, index: int, time: TimeSignature | None, signs: Signs | None, pen: Pen) -> list[str]:
    bar_ticks = time.ticks if time is not None else 0
    beat = time.beat.ticks if time is not None else CROTCHET_TICKS
    rows: list[str] = []
    for number, events in enumerate(bar.voices, 1):
        if number > 1:
            length = sum(_length(event, bar_ticks) for event in bar.voices[number - 2]) // pen.scale
            if length:
                rows.append(f"<backup><duration>{length}</duration></backup>\n")
        shifted = _shifted(bar, number, signs.shifted.get(index)) if signs else frozenset()
        elements = voice_elements(events, number, bar_ticks, beat, pen, shifted)
        if signs is None or number > 1:
            rows.extend(f"{element}\n" for element in elements)
            continue
        if not elements:
            rows.extend(f"{sign}\n" for sign in (*signs.before.get((index, 0), ()), *signs.after.get((index, 0), ())))
        for place, element in enumerate(elements):
            rows.extend(f"{sign}\n" for sign in signs.before.get((index, place), ()))
            rows.append(f"{element}\n")
            rows.extend(f"{sign}\n" for sign in signs.after.get((index, place), ()))
    return rows


def _shifted(bar: Bar, number: int, first_voice: set[int] | None) -> frozenset[int]:
    """Which events of a voice sound under an octave sign that is placed by the events of the first voice."""
    if not first_voice or number == 1 or not bar.events:
        return frozenset(first_voice or ())
    onsets = [0, *accumulate(event.ticks for event in bar.events)]
    low, high = onsets[min(first_voice)], onsets[max(first_voice) + 1]
    starts = accumulate((event.ticks for event in bar.voices[number - 1]), initial=0)
    return frozenset(place for place, start in enumerate(starts) if low <= start < high)


def _length(event: object, bar_ticks: int) -> int:
    if getattr(event, "whole_bar", False) and bar_ticks:
        return bar_ticks
    ticks = getattr(event, "ticks", None)
    if not isinstance(ticks, int):
        raise CannotWrite(f"{event!r} is not an event")
    return ticks


def _left(stave: Stave, index: int) -> str:
    bar = stave.bars[index]
    begins = bar.ending is not None and (index == 0 or stave.bars[index - 1].ending != bar.ending)
    if not (bar.repeat_start or begins):
        return ""
    style = "<bar-style>heavy-light</bar-style>" if bar.repeat_start else ""
    ending = f'<ending number="{bar.ending}" type="start"/>' if begins else ""
    repeat = '<repeat direction="forward"/>' if bar.repeat_start else ""
    return f'<barline location="left">{style}{ending}{repeat}</barline>\n'


def _right(stave: Stave, index: int) -> str:
    bar = stave.bars[index]
    style = _STYLES[bar.line]
    ending = ""
    if bar.ending is not None and (index + 1 == len(stave.bars) or stave.bars[index + 1].ending != bar.ending):
        ending = f'<ending number="{bar.ending}" type="{"stop" if bar.line != "single" else "discontinue"}"/>'
    repeat = '<repeat direction="backward"/>' if bar.line == "repeat-end" else ""
    if not (style or ending):
        return ""
    return f'<barline location="right">{style}{ending}{repeat}</barline>\n'
