"""Where verovio puts the signs of a key signature: by its own tables, read off its picture."""

from __future__ import annotations

import re
from functools import cache

import verovio

# The lines on which the clefs stand: Gehrkens, Music Notation and Terminology (1914) §§15-19.
CLEFS = {"treble": ("G", 2), "bass": ("F", 4), "alto": ("C", 3), "tenor": ("C", 4)}
_MEI = """<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.0">
<meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score><scoreDef keysig="{sig}"><staffGrp>
<staffDef n="1" lines="5" clef.shape="{shape}" clef.line="{line}"/></staffGrp></scoreDef>
<section><measure n="1"><staff n="1"><layer n="1"><mRest/></layer></staff></measure></section>
</score></mdiv></body></music></mei>"""
_HALF_A_SPACE = 90


@cache
def _toolkit() -> verovio.toolkit:
    made = verovio.toolkit()
    made.setOptions({"pageWidth": 2000, "pageHeight": 1000, "scale": 100, "header": "none", "footer": "none"})
    return made


def places_of_signature(clef: str, fifths: int) -> tuple[int, ...]:
    """The place of each sign on the stave, in printed order: 0 is the bottom line, 1 the space above it."""
    shape, line = CLEFS[clef]
    sig = f"{abs(fifths)}{'s' if fifths > 0 else 'f'}"
    _toolkit().loadData(_MEI.format(sig=sig, shape=shape, line=line))
    svg = _toolkit().renderToSVG(1)
    bottom = [int(y) for y in re.findall(r'<path d="M0 (\d+) L', svg)][4]
    signs = re.findall(r'class="keyAccid">\s*<use[^>]*translate\(-?\d+, (-?\d+)\)', svg)
    return tuple((bottom - int(y)) // _HALF_A_SPACE for y in signs)
