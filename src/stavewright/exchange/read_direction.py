"""Words, dynamics, hairpins, octave signs and brackets of MusicXML, read as directions at an event."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from lxml.etree import _Element as Element

from stavewright.exchange.musicxml_names import JUMP_WORDS
from stavewright.score.stave import Direction

__all__ = ["Spans", "read_direction"]

Place = tuple[int, int]
"""(bar index, index of an event of the first voice)."""

_OCTAVES: Final = {"down": "octave-up"}


@dataclass(slots=True)
class Spans:
    """The directions of one stave: those placed, and the hairpins, octave signs and brackets still open.

    ``placed`` holds (bar, direction), with None for one whose end has not come; ``open`` where in ``placed`` it
    stands. ``brackets`` holds (first place, last place, label); ``octaves`` the stretches of the present bar under an
    octave sign, in divisions. ``reason`` says which sign in force is not read.
    """

    placed: list[tuple[int, Direction | None]] = field(default_factory=list)
    open: dict[tuple[str, str], tuple[Place, Direction, int]] = field(default_factory=dict)
    brackets: list[tuple[Place, Place, str]] = field(default_factory=list)
    left_out: set[str] = field(default_factory=set)
    octaves: list[tuple[int, int | None]] = field(default_factory=list)
    reason: str = ""
    reason_ends: bool = False

    def raised(self, position: int) -> bool:
        """Whether a note at a position of the present bar stands under an octave sign."""
        return any(start <= position and (end is None or position < end) for start, end in self.octaves)

    def next_bar(self) -> None:
        """Carry over the bar line what is still open."""
        if self.octaves:
            self.octaves = [(0, None)] if self.octaves[-1][1] is None else []
        if self.reason_ends:
            self.reason, self.reason_ends = "", False


@dataclass(slots=True)
class _Seen:
    place: Place
    position: int
    spans: Spans
    above: bool
    tempo: bool
    jump: str
    words: str = ""


def read_direction(element: Element, place: Place, position: int, spans: Spans) -> None:
    """Take in one ``direction``, at the place of the event that comes next and its position in divisions."""
    sound = element.find("sound")
    jump = ""
    tempo = element.get("directive") == "yes"
    if sound is not None:
        jump = next((kind for name, kind in _JUMPS.items() if sound.get(name)), "")
        tempo = tempo or sound.get("tempo") is not None
    kinds = [child for found in element.iterfind("direction-type") for child in found]
    tempo = tempo or any(child.tag == "metronome" for child in kinds)
    seen = _Seen(place, position, spans, element.get("placement") == "above", tempo, jump)
    for child in kinds:
        reader = _READERS.get(child.tag)
        if reader is None:
            spans.left_out.add(_UNKEPT.get(str(child.tag), f"directions of the kind {str(child.tag)[:30]!r}"))
        else:
            reader(seen, child)
    _flush(seen)


def _flush(seen: _Seen) -> None:
    text = " ".join(seen.words.split())
    seen.words = ""
    if not text:
        return
    kind = seen.jump or ("tempo" if seen.tempo else "text")
    if JUMP_WORDS.get(kind) == text:
        text = ""
    _place(seen, Direction(kind, seen.place[1], text, above=seen.above or kind == "tempo"))


def _place(seen: _Seen, direction: Direction) -> None:
    seen.spans.placed.append((seen.place[0], direction))


def _words(seen: _Seen, element: Element) -> None:
    seen.words = f"{seen.words} {element.text or ''}"


def _dynamics(seen: _Seen, element: Element) -> None:
    _flush(seen)
    letters = "".join((child.text or "") if child.tag == "other-dynamics" else str(child.tag) for child in element)
    if letters:
        _place(seen, Direction("dynamic", seen.place[1], letters, above=seen.above))


def _sign(seen: _Seen, element: Element) -> None:
    _flush(seen)
    _place(seen, Direction(str(element.tag), seen.place[1], above=seen.above))


def _wedge(seen: _Seen, element: Element) -> None:
    _flush(seen)
    key = ("wedge", element.get("number", "1"))
    kind = element.get("type")
    if kind in ("crescendo", "diminuendo"):
        _begin(seen, key, Direction(kind, seen.place[1], above=seen.above))
    elif kind == "stop":
        _end(seen, key)


def _octave_shift(seen: _Seen, element: Element) -> None:
    key = ("octave", element.get("number", "1"))
    kind = element.get("type", "")
    if kind == "stop":
        octaves = seen.spans.octaves
        if octaves and octaves[-1][1] is None:
            octaves[-1] = (octaves[-1][0], seen.position)
        seen.spans.reason_ends = bool(seen.spans.reason)
        _end(seen, key)
    elif kind in _OCTAVES and element.get("size", "8") == "8":
        seen.spans.octaves.append((seen.position, None))
        _begin(seen, key, Direction(_OCTAVES[kind], seen.place[1], above=True))
    elif kind != "continue":
        seen.spans.reason = "an octave sign other than 8va"


def _begin(seen: _Seen, key: tuple[str, str], direction: Direction) -> None:
    seen.spans.open[key] = (seen.place, direction, len(seen.spans.placed))
    seen.spans.placed.append((seen.place[0], None))


def _end(seen: _Seen, key: tuple[str, str]) -> None:
    started = seen.spans.open.pop(key, None)
    if started is None:
        return
    (bar, at), direction, slot = started
    bar_now, next_event = seen.place
    if next_event == 0 and bar_now > bar:
        # A sign that ends at the bar line ends with the last event of the bar before.
        until_bar, until = bar_now - bar - 1, None
    else:
        until_bar, until = bar_now - bar, max(next_event - 1, at if bar_now == bar else 0)
    seen.spans.placed[slot] = (bar, Direction(direction.kind, at, "", until, until_bar, direction.above))


def _bracket(seen: _Seen, element: Element) -> None:
    key = ("bracket", element.get("number", "1"))
    kind = element.get("type")
    if kind == "start":
        text = " ".join(seen.words.split())
        seen.words = ""
        seen.spans.open[key] = (seen.place, Direction("text", seen.place[1], text), -1)
    elif kind == "stop" and key in seen.spans.open:
        place, label, _ = seen.spans.open.pop(key)
        last = (seen.place[0], max(seen.place[1] - 1, 0))
        seen.spans.brackets.append((place, last, label.text))


_JUMPS: Final = {"fine": "fine", "dacapo": "da-capo", "dalsegno": "dal-segno"}
_UNKEPT: Final = {
    "metronome": "metronome marks",
    "dashes": "dashed lines after words",
    "pedal": "pedal marks",
    "rehearsal": "rehearsal letters",
}
_READERS: Final[dict[object, Callable[[_Seen, Element], None]]] = {
    "words": _words,
    "dynamics": _dynamics,
    "segno": _sign,
    "coda": _sign,
    "wedge": _wedge,
    "octave-shift": _octave_shift,
    "bracket": _bracket,
}
