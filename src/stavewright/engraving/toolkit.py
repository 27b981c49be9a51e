"""The one door to verovio: a toolkit for each thread, its options set afresh for each picture."""

from __future__ import annotations

import os
import threading
import zlib
from typing import Any, Final

import verovio

from stavewright.engraving.errors import EngravingError

UNITS: Final = 720
"""Verovio's internal units in one stave height (five lines, four spaces)."""

SPACE: Final = UNITS // 4
"""Units between two stave lines."""

DATA: Final = os.path.join(os.path.dirname(verovio.__file__), "data")
_LOCAL = threading.local()

_OPTIONS: Final[dict[str, Any]] = {
    "adjustPageWidth": True,
    "adjustPageHeight": True,
    "breaks": "none",
    "header": "none",
    "footer": "none",
    "pageMarginTop": 8,
    "pageMarginBottom": 8,
    "pageMarginLeft": 4,
    "pageMarginRight": 4,
    "pageWidth": 20000,
    "pageHeight": 60000,
    "scale": 100,
    "svgViewBox": True,
    "svgFormatRaw": True,
    "smuflTextFont": "none",
    "font": "Leland",
    "mnumInterval": 0,
    "minLastJustification": 0.0,
    "spacingLinear": 0.29,
    "spacingSystem": 6,
    "measureMinWidth": 10,
    "staffLineWidth": 0.18,
    "leftMarginAccid": 1.7,
    "rightMarginNote": 0.7,
}
_BOLD: Final[dict[str, Any]] = {
    "staffLineWidth": 0.22,
    "stemWidth": 0.28,
    "barLineWidth": 0.42,
    "ledgerLineThickness": 0.34,
    "tieMidpointThickness": 0.6,
}
_BOLDER: Final[dict[str, Any]] = {
    "staffLineWidth": 0.28,
    "stemWidth": 0.4,
    "barLineWidth": 0.6,
    "ledgerLineThickness": 0.45,
    "tieMidpointThickness": 0.8,
    "lyricSize": 6.0,
    "spacingLinear": 0.22,
}


def _toolkit() -> Any:
    if not hasattr(_LOCAL, "toolkit"):
        # Errors still reach the error stream; warnings (tight spacing, a hairpin left out) are for us, not for a
        # teacher's terminal: what must be drawn is counted by our own checks.
        verovio.enableLog(verovio.LOG_ERROR)
        # The resource path belongs to the thread: a toolkit made without it draws empty pictures.
        verovio.setDefaultResourcePath(DATA)
        _LOCAL.toolkit = verovio.toolkit()
    return _LOCAL.toolkit


def weights(stave_mm: float) -> dict[str, Any]:
    """Options that draw bolder lines on large staves, for eyes that need them.

    >>> weights(7), weights(16)["stemWidth"]
    ({}, 0.4)
    """
    return dict(_BOLDER if stave_mm >= 14 else _BOLD if stave_mm >= 10 else {})


def draw(mei: str, name: str, options: dict[str, Any]) -> str:
    """Draw MEI text as verovio's SVG. Same text, name and options: same bytes, in every thread and process.

    Raises:
        EngravingError: verovio could not read the text, an option is unknown to it, or it drew nothing.
    """
    toolkit = _toolkit()
    toolkit.resetOptions()
    asked = {**_OPTIONS, **options}
    toolkit.setOptions(asked)
    _heeded(toolkit, asked)  # before the music: a font that is not there spoils the thread's toolkit
    toolkit.resetXmlIdSeed(1 + zlib.crc32(name.encode()) % 0x7FFF_FFFE)
    if not toolkit.loadData(mei):
        raise EngravingError(f"picture {name}: the music could not be read back; the MEI text is not well formed")
    pages = toolkit.getPageCount()
    if pages != 1:
        raise EngravingError(f"picture {name}: {pages} pages were drawn where one was asked for")
    svg: str = toolkit.renderToSVG(1)
    return svg


def _heeded(toolkit: Any, asked: dict[str, Any]) -> None:
    """Verovio says True to unknown options, fonts and values out of range: ask once what it really took."""
    seen: set[str] = _LOCAL.__dict__.setdefault("heeded", set())
    key = repr(sorted((k, v) for k, v in asked.items() if k != "pageWidth"))
    if key in seen:
        return
    if not os.path.exists(os.path.join(DATA, f"{asked['font']}.xml")):
        raise EngravingError(f"verovio has no music font {asked['font']!r}; it has Leland, Bravura, Leipzig and others")
    taken = toolkit.getOptions()
    for option, value in asked.items():
        if option == "scale":
            if toolkit.getScale() != value:
                raise EngravingError(f"verovio did not take scale = {value!r}")
        elif option not in taken or taken[option] != value:
            raise EngravingError(f"verovio did not take the option {option} = {value!r}; it has {taken.get(option)!r}")
    seen.add(key)
