"""The clef, key signature and time signature in force on a stave, as ``attributes`` elements change them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from lxml.etree import _Element as Element

from stavewright.exchange.musicxml_names import CLEF_NAMES
from stavewright.exchange.read_direction import Spans
from stavewright.exchange.read_value import whole_number
from stavewright.exchange.reading import ReadBar
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature

__all__ = ["IN_FORCE", "StaveState"]


_OCTAVES: Final = {"0": "", "-1": " an octave lower", "1": " an octave higher"}
"""Clefs with a small 8: their notes are read as they sound, but the score has no such clef to write them in."""


@dataclass(slots=True)
class StaveState:
    """What is in force on one stave, and why not when it cannot be said."""

    clef: str | None = "treble"
    fifths: int | None = None
    time: TimeSignature | None = None
    reasons: dict[str, str] = field(default_factory=dict)
    bars: list[ReadBar] = field(default_factory=list)
    show_clef: bool = True
    spans: Spans = field(default_factory=Spans)
    slurs: dict[str, str] = field(default_factory=dict)
    ending: int | None = None
    changes: dict[str, object] = field(default_factory=dict)

    def put(self, name: str, value: object, reason: str = "") -> None:
        """Put a clef, signature or time in force; one that cannot be said is None and has a reason."""
        if reason:
            self.reasons[name] = reason
        else:
            self.reasons.pop(name, None)
        if getattr(self, name) != value or not self.bars:
            setattr(self, name, value)
            self.changes[name] = value


def _clef(state: StaveState, element: Element) -> None:
    sign, line = element.findtext("sign") or "", element.findtext("line") or ""
    octaves = (element.findtext("clef-octave-change") or "0").strip()
    name = CLEF_NAMES.get((sign.strip(), line.strip()))
    if not state.bars:
        state.show_clef = element.get("print-object") != "no"
    if name is not None and octaves in _OCTAVES:
        state.put("clef", name + _OCTAVES[octaves])
    else:
        shift = f" with an octave number {octaves[:5]}" if octaves != "0" else ""
        state.put("clef", None, f"a clef {sign[:12]} on line {line[:3] or '?'}{shift}")


def _key(state: StaveState, element: Element) -> None:
    fifths = element.find("fifths")
    if fifths is None:
        state.put("fifths", None, "a key signature that is not made of fifths")
        return
    number = whole_number(fifths, -20, 20)
    if abs(number) > 7:
        state.put("fifths", None, f"a key signature of {abs(number)} signs")
    else:
        state.put("fifths", number)


def _time(state: StaveState, element: Element) -> None:
    if element.find("senza-misura") is not None:
        state.put("time", None)
        return
    figures = [(found.text or "").strip() for found in element if found.tag in ("beats", "beat-type")]
    symbol = element.get("symbol")
    try:
        beats, unit = (int(figure) for figure in figures)
        sign = symbol if symbol in ("common", "cut") else None
        state.put("time", TimeSignature(beats, unit, sign))  # type: ignore[arg-type]  # a symbol that is known
    except (ValueError, StavewrightError):
        state.put("time", None, f"a time signature {'/'.join(figures)[:20]}")


def _staff_details(state: StaveState, element: Element) -> None:
    lines = (element.findtext("staff-lines") or "5").strip()
    state.reasons.pop("lines", None)
    if lines != "5":
        state.reasons["lines"] = f"a stave of {lines[:5]} lines"


def _measure_style(state: StaveState, element: Element) -> None:
    if element.find("multiple-rest") is None:
        reasons = state.reasons
        reasons.pop("style", None)
        if any(found.get("type") == "start" for found in element):
            reasons["style"] = "repeat or slash signs in place of notes"


IN_FORCE: Final = {
    "clef": _clef,
    "key": _key,
    "time": _time,
    "staff-details": _staff_details,
    "measure-style": _measure_style,
}
"""The reader of each element that stays in force."""
