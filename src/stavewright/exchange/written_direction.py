"""Words, dynamics, hairpins, octave signs and brackets as MusicXML directions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Final

from stavewright.exchange.musicxml_names import DYNAMICS, JUMP_WORDS
from stavewright.exchange.written_note import escaped
from stavewright.score.event import Event
from stavewright.score.stave import Bar, Bracket, Direction

__all__ = ["Signs", "place_signs"]

_SPANS: Final = {"crescendo": "wedge", "diminuendo": "wedge", "octave-up": "octave-shift"}
_SOUNDS: Final = {"fine": 'fine="yes"', "da-capo": 'dacapo="yes"', "dal-segno": 'dalsegno="segno"'}


@dataclass(slots=True)
class Signs:
    """What stands before and after each event of the first voice: keys are (bar index, event index)."""

    before: dict[tuple[int, int], list[str]] = field(default_factory=dict)
    after: dict[tuple[int, int], list[str]] = field(default_factory=dict)
    shifted: dict[int, set[int]] = field(default_factory=dict)


def place_signs(bars: Sequence[Bar], brackets: Sequence[Bracket]) -> Signs | None:
    """Every direction and bracket of a stave as MusicXML, at the event it belongs to; None when there are none.

    Raises:
        CannotWrite: a control character in a word.
    """
    if not brackets and not any(bar.directions for bar in bars):
        return None
    signs = Signs()
    numbers = count()
    for index, bar in enumerate(bars):
        for direction in bar.directions:
            _direction(bars, index, direction, next(numbers) % 16 + 1, signs)
    for number, bracket in enumerate(brackets):
        _bracket(bars, bracket, number % 16 + 1, signs)
    return signs


def _direction(bars: Sequence[Bar], index: int, direction: Direction, number: int, signs: Signs) -> None:
    first = (index, min(direction.at, max(len(bars[index].events) - 1, 0)))
    span = _SPANS.get(direction.kind)
    if span is None:
        signs.before.setdefault(first, []).append(_point(direction))
        return
    bar = min(index + direction.until_bar, len(bars) - 1)
    end = max(len(bars[bar].events) - 1, 0)
    last = (bar, end if direction.until is None else min(direction.until, end))
    if span == "wedge":
        start, stop = f'<wedge type="{direction.kind}" number="{number}"/>', f'<wedge type="stop" number="{number}"/>'
    else:
        start = f'<octave-shift type="down" size="8" number="{number}"/>'
        stop = f'<octave-shift type="stop" size="8" number="{number}"/>'
        for event_bar in range(first[0], last[0] + 1):
            begin = first[1] if event_bar == first[0] else 0
            stop_at = last[1] if event_bar == last[0] else len(bars[event_bar].events) - 1
            signs.shifted.setdefault(event_bar, set()).update(range(begin, stop_at + 1))
    above = direction.above or span == "octave-shift"
    signs.before.setdefault(first, []).append(_direction_xml(start, above))
    signs.after.setdefault(last, []).append(_direction_xml(stop, above))


def _direction_xml(inside: str, above: bool, extra: str = "", sound: str = "") -> str:
    placement = "above" if above else "below"
    return f'<direction placement="{placement}"{extra}><direction-type>{inside}</direction-type>{sound}</direction>'


def _point(direction: Direction) -> str:
    kind = direction.kind
    text = escaped(direction.text)
    if kind == "tempo":
        return _direction_xml(f'<words font-weight="bold">{text}</words>', above=True, extra=' directive="yes"')
    if kind == "text":
        return _direction_xml(f'<words font-style="italic">{text}</words>', direction.above)
    if kind == "dynamic":
        letters = f"<{text}/>" if text in DYNAMICS else f"<other-dynamics>{text}</other-dynamics>"
        return _direction_xml(f"<dynamics>{letters}</dynamics>", direction.above)
    if kind in _SOUNDS:
        words = f"<words>{text or JUMP_WORDS[kind]}</words>"
        return _direction_xml(words, direction.above, sound=f"<sound {_SOUNDS[kind]}/>")
    return _direction_xml(f"<{kind}/>", direction.above)


def _bracket(bars: Sequence[Bar], bracket: Bracket, number: int, signs: Signs) -> None:
    places = {event.id: place for place, event in _first_voice(bars).items() if event.id}
    first, last = places.get(bracket.first), places.get(bracket.last)
    if first is None or last is None:
        return
    words = ""
    if bracket.label:
        words = f"<words>{escaped(bracket.label)}</words></direction-type><direction-type>"
    start = f'<bracket type="start" number="{number}" line-end="down"/>'
    stop = f'<bracket type="stop" number="{number}" line-end="down"/>'
    signs.before.setdefault(first, []).append(_direction_xml(words + start, above=True))
    signs.after.setdefault(last, []).append(_direction_xml(stop, above=True))


def _first_voice(bars: Sequence[Bar]) -> Mapping[tuple[int, int], Event]:
    return {(number, place): event for number, bar in enumerate(bars) for place, event in enumerate(bar.events)}
