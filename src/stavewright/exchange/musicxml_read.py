"""MusicXML from outside read as a score, or refused by name with the reason and the place."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from itertools import islice

from lxml.etree import _Element as Element

from stavewright.exchange.errors import BadMusicXML, NotUnderstood
from stavewright.exchange.read_bar import PartReader
from stavewright.exchange.read_in_force import StaveState
from stavewright.exchange.reading import ReadBar, Reading, ReadStave
from stavewright.exchange.safe_xml import LIMIT, opened
from stavewright.score.check import faults
from stavewright.score.event import Chord, Event, Note
from stavewright.score.stave import Bar, Bracket, Direction, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.theory.clef import CLEFS

__all__ = ["from_musicxml", "read_musicxml"]

_SPANNED = ("crescendo", "diminuendo", "octave-up")
_MOST_REASONS = 5


def from_musicxml(data: bytes | str, *, limit: int = LIMIT) -> Score:
    """Read a MusicXML document, plain or packed, as a score.

    Everything that bears on the notes is read or refused; fingering, chord symbols, second verses and the layout of
    the page are left out. Where the file does not say that it gives every accidental, the signs the notes need are
    worked out. ``limit`` is the most bytes that are read.

    Raises:
        BadMusicXML: not a sound document.
        TooLarge: longer than ``limit``, packed or unpacked.
        NotUnderstood: music that the score has no place for, with the first reasons and their bars.

    Source: W3C, MusicXML 4.0 (2021).

    >>> from stavewright.exchange.musicxml_write import to_musicxml
    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> row = single("alto", (Note(Pitch("C", 0, 4), Duration("minim"), accidental=None),))
    >>> from_musicxml(to_musicxml(row)) == row
    True
    """
    reading = read_musicxml(data, limit=limit)
    reasons = list(_reasons(reading))
    if reasons:
        more = f" and {len(reasons) - _MOST_REASONS} more" if len(reasons) > _MOST_REASONS else ""
        raise NotUnderstood(
            "not understood: " + "; ".join(reasons[:_MOST_REASONS]) + more, right="take these out of the file"
        )
    return _score(reading)


def read_musicxml(
    data: bytes | str,
    *,
    limit: int = LIMIT,
    parts: Collection[int] | None = None,
    since: int = 0,
    until: int | None = None,
) -> Reading:
    """Read a MusicXML document bar by bar: what is not understood is marked with its reason, and the rest is kept.

    ``parts`` picks parts by their index; of them the bars from index ``since`` up to and without ``until`` are read,
    those before are not. All three save time.

    Raises:
        BadMusicXML: not a sound document, or its parts have different numbers of bars.
        TooLarge: longer than ``limit``, packed or unpacked.
        NotUnderstood: a timewise document or an encoding that is not read.
    """
    root = opened(data, limit=limit, last_part=max(parts) if parts else None)
    names = {one.get("id"): (one.findtext("part-name") or "").strip() for one in root.iterfind("part-list/score-part")}
    left_out: set[str] = set()
    staves: list[ReadStave] = []
    brackets: list[tuple[str, str, str]] = []
    several = False
    for number, part in enumerate(root.iterfind("part")):
        if parts and number not in parts:
            continue
        reader = _read_part(part, since, until)
        left_out |= reader.left_out
        several = several or len(reader.staves) > 1
        for state in reader.staves:
            staves.append(ReadStave(names.get(part.get("id"), ""), _finished(state, brackets), state.show_clef))
            left_out |= state.spans.left_out
    if not staves or not staves[0].bars:
        raise BadMusicXML("the document has no bars", right="give a score with at least one part and one measure")
    if len({len(stave.bars) for stave in staves}) > 1:
        raise BadMusicXML("the parts have different numbers of bars", right="give every part the same number")
    symbols = {(found.text or "").strip() for found in root.iterfind("part-list/part-group/group-symbol")}
    join = "brace" if several or "brace" in symbols else "bracket" if "bracket" in symbols else "none"
    numbering = root.findtext("part/measure/print/measure-numbering") or ""
    return Reading(
        title=_text(root, "movement-title") or _text(root, "work/work-title"),
        composer=_text(root, "identification/creator[@type='composer']"),
        rights=_rights(root),
        staves=tuple(staves),
        join=join if len(staves) > 1 else "none",
        numbered=numbering.strip() in ("measure", "system"),
        brackets=tuple(brackets),
        left_out=tuple(sorted(left_out)),
        exact_signs=root.find("identification/encoding/supports[@element='accidental'][@type='yes']") is not None,
    )


def _read_part(part: Element, since: int, until: int | None) -> PartReader:
    reader = PartReader()
    try:
        for index, measure in enumerate(islice(part.iterfind("measure"), until)):
            reader.measure(measure, skim=index < since)
    except BadMusicXML as error:
        where = f"part {part.get('id', '?')[:20]}, measure {len(reader.staves[0].bars) + 1}, {error.where}"
        raise BadMusicXML(error.what, where=where, right=error.right) from error
    return reader


def _rights(root: Element) -> str:
    """What the file says of its rights: in the field for it, or in a line of credit with a copyright sign."""
    said = _text(root, "identification/rights")
    lines = (" ".join((found.text or "").split())[:200] for found in root.iterfind("credit/credit-words"))
    return said or next((line[line.index("\u00a9") :] for line in lines if "\u00a9" in line), "")


def _text(root: Element, path: str) -> str:
    return " ".join((root.findtext(path) or "").split())[:200]


def _finished(state: StaveState, brackets: list[tuple[str, str, str]]) -> tuple[ReadBar, ...]:
    bars = state.bars
    by_bar: dict[int, list[Direction]] = {}
    for index, direction in state.spans.placed:
        if direction is None:
            state.spans.left_out.add("a hairpin or octave sign without an end")
            continue
        held = _held(direction, index, bars)
        if held is not None:
            by_bar.setdefault(index, []).append(held)
    for index, directions in by_bar.items():
        read = bars[index]
        if read.bar is not None:
            bars[index] = replace(read, bar=replace(read.bar, directions=tuple(directions)))
    for first, last, label in state.spans.brackets:
        ends = [_event_at(bars, place) for place in (first, last)]
        if all(end is not None and end.id for end in ends):
            brackets.append((ends[0].id, ends[1].id, label))  # type: ignore[union-attr]  # none is None: asked above
        else:
            state.spans.left_out.add("brackets over notes without ids")
    return tuple(_with_whole_slurs(bars))


def _held(direction: Direction, index: int, bars: Sequence[ReadBar]) -> Direction | None:
    bar = bars[index].bar
    last_bar = bars[index + direction.until_bar].bar
    if bar is None or last_bar is None:
        return None
    at = min(direction.at, max(len(bar.events) - 1, 0))
    if direction.kind not in _SPANNED:
        return direction if at == direction.at else replace(direction, at=at)
    last = max(len(last_bar.events) - 1, 0)
    until = last if direction.until is None else min(direction.until, last)
    return replace(direction, at=at, until=until)


def _event_at(bars: Sequence[ReadBar], place: tuple[int, int]) -> Event | None:
    bar = bars[place[0]].bar
    return bar.events[place[1]] if bar is not None and place[1] < len(bar.events) else None


def _with_whole_slurs(bars: list[ReadBar]) -> list[ReadBar]:
    """Take away slur ends whose other end was not understood or is not there."""
    lost: dict[int, set[tuple[int, int]]] = {}
    for number in (0, 1):
        started: tuple[int, int] | None = None
        for index, read in enumerate(bars):
            if read.bar is None or len(read.bar.voices) <= number:
                _lose(lost, started, number)
                started = None
                continue
            for place, event in enumerate(read.bar.voices[number]):
                slur = event.slur if isinstance(event, Note | Chord) else None
                if slur is None:
                    continue
                if slur in ("stop", "both"):
                    if started is None:
                        _lose(lost, (index, place), number)
                    started = None
                if slur in ("start", "both"):
                    started = (index, place)
        _lose(lost, started, number)
    for index, places in lost.items():
        read = bars[index]
        if read.bar is not None:
            bars[index] = replace(read, bar=_without_slurs(read.bar, places))
    return bars


def _lose(lost: dict[int, set[tuple[int, int]]], place: tuple[int, int] | None, voice: int) -> None:
    if place is not None:
        lost.setdefault(place[0], set()).add((voice, place[1]))


def _without_slurs(bar: Bar, places: set[tuple[int, int]]) -> Bar:
    voices = [list(voice) for voice in bar.voices]
    for voice, place in places:
        event = voices[voice][place]
        if isinstance(event, Note | Chord):
            voices[voice][place] = replace(event, slur=None)
    return replace(bar, voices=tuple(tuple(voice) for voice in voices))


def _reasons(reading: Reading) -> Iterator[str]:
    for number, stave in enumerate(reading.staves, 1):
        for bar in stave.bars:
            foreign = f"a clef {bar.clef}" if bar.clef is not None and bar.clef not in CLEFS else ""
            if bar.bar is None or foreign:
                yield f"stave {number}, bar {bar.number[:12] or '?'}: {bar.reason or foreign}"


def _score(reading: Reading) -> Score:
    staves: list[Stave] = []
    for stave in reading.staves:
        bars = tuple(read.bar for read in stave.bars if read.bar is not None)
        first = stave.bars[0]
        staves.append(Stave(first.clef or "treble", bars, first.fifths, first.time, stave.name, stave.show_clef))
    first_bar, time = staves[0].bars[0], staves[0].time
    short = time is not None and 0 < sum(event.ticks for event in first_bar.events) < time.ticks
    score = Score(
        tuple(staves),
        join=reading.join,
        brackets=tuple(Bracket(*bracket) for bracket in reading.brackets),
        numbered=reading.numbered,
        anacrusis=short and first_bar.free and len(staves[0].bars) > 1,
    )
    return with_accidentals(score) if not reading.exact_signs and faults(score) else score
