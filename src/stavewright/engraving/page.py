"""The one door to typst: a page document in, a tagged PDF or PNG pictures of its pages out."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final, Literal

import msgspec
import typst

from stavewright.engraving.errors import PageError
from stavewright.engraving.handout import Handout
from stavewright.engraving.layout import Page

_HERE: Final = Path(__file__).parent
TEMPLATES: Final = _HERE / "templates"
FONTS: Final = _HERE / "fonts"
"""Every font a page may use; fonts of the machine are never looked at."""

PaperSize = Literal["a4", "letter"]
TYPST_PAPER: Final = {"a4": "a4", "letter": "us-letter"}
TEXT_WIDTH_MM: Final = {"a4": 210.0 - 27 - 19, "letter": 215.9 - 27 - 19}
TEXT_HEIGHT_MM: Final = {"a4": 297.0 - 17 - 20, "letter": 279.4 - 17 - 20}


def text_points(stave_mm: float) -> float:
    """The size of the words beside staves of this height: 11 points at 7 mm, 20 at 16 mm.

    >>> text_points(7), text_points(10), text_points(16)
    (11.0, 14.0, 20.0)
    """
    return round(4.0 + stave_mm, 1)


def pdf(page: Page | Handout) -> bytes:
    """Set a document as PDF: tagged, to the rules of PDF/UA-1, fonts embedded. Same document, same bytes.

    Raises:
        PageError: a picture without text alternative or anything else the setter of pages refuses.
    """
    return bytes(_compile(page, format="pdf", pdf_standards="ua-1", timestamp=0))


def pictures(page: Page | Handout, ppi: float = 80.0) -> list[bytes]:
    """The pages as PNG pictures, to be looked at; `ppi` dots an inch.

    Raises:
        PageError: as `pdf`.
    """
    found = _compile(page, format="png", ppi=ppi)
    return list(found) if isinstance(found, list) else [found]


def _compile(page: Page | Handout, **how: Any) -> Any:
    try:
        return typst.compile(
            str(TEMPLATES / ("handout.typ" if isinstance(page, Handout) else "paper.typ")),
            root=str(TEMPLATES),
            sys_inputs={"data": msgspec.json.encode(page).decode()},
            ignore_system_fonts=True,
            font_paths=[str(FONTS)],
            **how,
        )
    except (RuntimeError, typst.TypstError) as error:
        raise PageError(f"the page {page.title!r} could not be set: {error}") from error
