"""Pictures as grey pixels, to see where the ink really is."""

from __future__ import annotations

import json
import re

import numpy as np
import numpy.typing as npt
import pypdfium2
import typst

from stavewright.engraving.page import FONTS
from stavewright.engraving.svg import Picture

_VIEW = re.compile(r'viewBox="[^"]*" width="[^"]*" height="[^"]*"')
_PAGE = """#set page(width: sys.inputs.w * 1mm, height: sys.inputs.h * 1mm, margin: 0mm)
#image(bytes(json(bytes(sys.inputs.svg))), width: 100%, alt: "music")"""


def ink_outside(picture: Picture, around: float = 400.0) -> int:
    """How many dark pixels of a picture lie outside its own view: `around` units of its surroundings are looked at."""
    box, mm = picture.view, 7 / 720
    left, top = box.left - around, box.top - around
    width, height = box.right - box.left + 2 * around, box.bottom - box.top + 2 * around
    wide = f'viewBox="{left:.0f} {top:.0f} {width:.0f} {height:.0f}" width="{width * mm}mm" height="{height * mm}mm"'
    pixels = _pixels(_VIEW.sub(wide, picture.svg, count=1), width * mm, height * mm)
    scale = pixels.shape[1] / width
    edge = int(around * scale) - 1
    inside = pixels[edge:-edge, edge:-edge]
    return int((pixels < 128).sum() - (inside < 128).sum())


def dark_inside(picture: Picture) -> int:
    """How many dark pixels a picture has."""
    mm = 7 / 720
    width, height = (picture.view.right - picture.view.left) * mm, (picture.view.bottom - picture.view.top) * mm
    return int((_pixels(picture.svg, width, height) < 128).sum())


def _pixels(svg: str, width_mm: float, height_mm: float) -> npt.NDArray[np.uint8]:
    made = typst.compile(
        _PAGE.replace("sys.inputs.w", f"{width_mm}").replace("sys.inputs.h", f"{height_mm}").encode(),
        sys_inputs={"svg": json.dumps(svg)},
        ignore_system_fonts=True,
        font_paths=[str(FONTS)],
        format="pdf",
    )
    return render(bytes(made))[0]


def render(pdf: bytes, scale: float = 2.0) -> list[npt.NDArray[np.uint8]]:
    """Every page of a PDF as grey pixels."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [np.array(page.render(scale=scale, grayscale=True).to_numpy()).squeeze() for page in document]
    finally:
        document.close()
