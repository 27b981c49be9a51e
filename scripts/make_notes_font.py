"""Makes StavewrightNotes.ttf, the few Leland signs that stand in running text, from the font inside verovio's wheel.

Run it with `pip install fonttools brotli` at hand: `python scripts/make_notes_font.py OUT.ttf`. Only needed when
verovio brings a new Leland; the result is kept beside the other fonts. The family is renamed, as its licence
(SIL OFL 1.1) asks of a changed font when a name is reserved.
"""

from __future__ import annotations

import base64
import io
import re
import sys
from pathlib import Path

import verovio
from fontTools import subset
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

FAMILY = "Stavewright Notes"
COPYRIGHT = (
    "Copyright (c) 2021 MuseScore BVBA (https://musescore.com), the Leland font; "
    "subset, rescaled for text and renamed for stavewright"
)
# SMuFL code points kept as they are, for music words that verovio sets (metronome marks).
KEPT = (0xE1D2, 0xE1D3, 0xE1D5, 0xE1D7, 0xE1D9, 0xE1E7, 0xECA2, 0xECA3, 0xECA5, 0xECA7, 0xECA9, 0xECB7)
# Unicode sign -> (SMuFL glyph, scale, raise in em/1000): as the sign should stand in a line of words.
IN_TEXT = {
    0x266D: (0xE260, 1.15, 210),
    0x266E: (0xE261, 1.12, 340),
    0x266F: (0xE262, 1.15, 340),
    0x1D12A: (0xE263, 1.25, 340),
    0x1D12B: (0xE264, 1.15, 210),
    0x1D134: (0xE08A, 1.15, 340),
    0x1D135: (0xE08B, 1.15, 340),
    0x1D15C: (0xE1D0, 1.0, 300),
    0x1D15D: (0xE1D2, 1.0, 150),
    0x1D157: (0xE1D3, 0.9, 110),  # a minim's two signs, as Unicode takes it apart: the head draws the whole note
    0x1D15E: (0xE1D3, 0.9, 110),
    0x2669: (0xE1D5, 0.9, 110),
    0x1D158: (0xE1D5, 0.9, 110),
    0x1D15F: (0xE1D5, 0.9, 110),
    0x266A: (0xE1D7, 0.9, 110),
    0x1D160: (0xE1D7, 0.9, 110),
    0x1D161: (0xE1D9, 0.9, 110),
}
SIDE = 40


def leland() -> TTFont:
    """Leland as verovio's wheel brings it."""
    css = (Path(verovio.__file__).parent / "data" / "Leland.css").read_text()
    found = re.search(r"base64,([A-Za-z0-9+/=]+)", css)
    if found is None:
        raise SystemExit("no Leland font was found inside verovio")
    font = TTFont(io.BytesIO(base64.b64decode(found.group(1))))
    font.flavor = None
    return font


def main(out: str) -> None:
    """Write the renamed subset to `out`."""
    font = leland()
    cmap = font.getBestCmap()
    glyphs, metrics = font["glyf"], font["hmtx"]
    wanted = {code: cmap[code] for code in KEPT}
    drawn = font.getGlyphSet()
    for sign, (source, scale, lift) in IN_TEXT.items():
        old = drawn[cmap[source]]
        name = f"text{sign:04X}"
        pen = TTGlyphPen(None)
        old.draw(TransformPen(pen, (scale, 0, 0, scale, SIDE, lift)))
        glyph = pen.glyph()
        glyphs[name] = glyph
        glyph.recalcBounds(glyphs)
        metrics[name] = (glyph.xMax + SIDE, glyph.xMin)
        wanted[sign] = name
    bracket = TTGlyphPen(None)
    corners = ((60, 480), (60, 640), (640, 640), (640, 480), (580, 480), (580, 580), (120, 580), (120, 480))
    bracket.moveTo(corners[0])
    for corner in corners[1:]:
        bracket.lineTo(corner)
    bracket.closePath()
    glyphs["bracket"] = bracket.glyph()
    glyphs["bracket"].recalcBounds(glyphs)
    metrics["bracket"] = (700, 60)
    wanted[0x23B4] = "bracket"  # a bracket over notes that belong together
    glyphs["nothing"] = TTGlyphPen(None).glyph()
    metrics["nothing"] = (0, 0)
    wanted[0x1D165] = "nothing"
    font.setGlyphOrder(list(dict.fromkeys([*font.getGlyphOrder(), *wanted.values()])))
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap = {code: name for code, name in wanted.items() if table.format == 12 or code < 0x10000}
    if not any(table.format == 12 for table in font["cmap"].tables):
        from fontTools.ttLib.tables._c_m_a_p import CmapSubtable

        wide = CmapSubtable.newSubtable(12)
        wide.platformID, wide.platEncID, wide.language, wide.cmap = 3, 10, 0, dict(wanted)
        font["cmap"].tables.append(wide)
    options = subset.Options(layout_features=[], name_IDs=["*"], notdef_outline=True, hinting=False)
    chosen = subset.Subsetter(options)
    chosen.populate(unicodes=list(wanted))
    chosen.subset(font)
    names = font["name"]
    names.names = []
    for place, text in ((0, COPYRIGHT), (1, FAMILY), (2, "Regular"), (3, FAMILY), (4, FAMILY), (6, "StavewrightNotes")):
        names.setName(text, place, 3, 1, 0x409)
    names.setName("This Font Software is licensed under the SIL Open Font License, Version 1.1.", 13, 3, 1, 0x409)
    font["head"].created = font["head"].modified = 3_600_000_000
    font.recalcTimestamp = False
    font.save(out)


if __name__ == "__main__":
    main(sys.argv[1])
