"""A sheet to trace clefs and rests on: each once in black, a few times in grey, then empty places."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final

from stavewright.engraving.errors import EngravingError
from stavewright.engraving.gallery import shown_as
from stavewright.engraving.handout import Handout, Kept, Leaf, Piece
from stavewright.engraving.layout import Blank, Words
from stavewright.engraving.lesson_sheets import MARGINS
from stavewright.engraving.page import TEXT_WIDTH_MM, TYPST_PAPER, text_points
from stavewright.engraving.saying import sayer
from stavewright.engraving.svg import Picture, engrave
from stavewright.engraving.toolkit import UNITS
from stavewright.score.event import Gap, Rest
from stavewright.score.stave import Bar, Score, Stave, single
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration

GREY: Final = "#A9A59E"
"""Light enough to write over, dark enough to see (the outline is that of the printed sign)."""
_PLACE: Final = 2.3
"""How wide each place is, in stave heights."""
_LEFT: Final = 0.55
"""How far into its place a sign begins, in stave heights."""
_SIGN: Final = (
    r'<g[^>]* class="{kind}"[^>]*><use xlink:href="(#[^"]+)" transform="translate\(-?\d+, (-?\d+)\) (scale\([^)]*\))"/>'
    r'(?:<g class="ledgerLines"/>)?</g>'
)

HINTS: Final = {
    "treble clef": "Begin on the second line, the line of G. Curl round it, swing up high, come straight down.",
    "bass clef": "Begin with a dot on the fourth line, the line of F. Curve over the top and down. Then two dots.",
    "alto clef": "A thick line, a thin line, then two curves that meet at the middle line, which is C.",
    "tenor clef": "Like the alto clef, but the two curves meet at the fourth line, which is C.",
    "breve rest": "A block that fills the space between the third line and the fourth.",
    "semibreve rest": "A block that hangs from the fourth line.",
    "minim rest": "A block that sits on the third line.",
    "crotchet rest": "A zigzag from the top, with a small hook at the end.",
    "quaver rest": "A dot, a curve to the right, and a slanting stroke down.",
    "semiquaver rest": "Two dots with their curves, on one slanting stroke.",
    "demisemiquaver rest": "Three dots with their curves, on one slanting stroke.",
}
"""How each sign is drawn, in a sentence or two."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign to trace: its name, the music that shows it, and whether it is a "clef" or a "rest"."""

    name: str
    score: Score
    kind: str


def signs_to_trace(scope: Scope, kinds: tuple[str, ...]) -> tuple[Sign, ...]:
    """The clefs and rests of a grade.

    >>> from stavewright.syllabus.scope import scope_for
    >>> [one.name for one in signs_to_trace(scope_for(1), ("clefs",))]
    ['treble clef', 'bass clef']
    """
    room = (Bar(((Gap(Duration("semibreve")),),), line="none", free=True),)
    clefs = [Sign(f"{name} clef", Score((Stave(name, room),)), "clef") for name in scope.clefs]
    rests = [
        Sign(Duration(name).name(rest=True), _bare(single("treble", (Rest(Duration(name), id="n1"),))), "rest")
        for name in scope.values
    ]
    return (*(clefs if "clefs" in kinds else ()), *(rests if "rests" in kinds else ()))


def _bare(score: Score) -> Score:
    return replace(score, staves=tuple(replace(stave, show_clef=False) for stave in score.staves))


def tracing(scope: Scope, kinds: tuple[str, ...], *, size: str, stave_mm: float, words: str = "uk") -> Handout:
    """The whole sheet, a row for each sign.

    Raises:
        EngravingError: a sign that cannot be drawn.
    """
    say = sayer(words)
    width = TEXT_WIDTH_MM[size]
    pieces: list[Piece] = []
    for number, sign in enumerate(signs_to_trace(scope, kinds), 1):
        picture, grey, empty = row(sign, f"t{number}", width, stave_mm)
        name = say(sign.name)
        alt = f"The {name} on a stave: once in black, {grey} times in grey to trace, then {empty} empty places."
        shown = (Words(say(HINTS[sign.name]), "quiet"), shown_as(picture, alt))
        pieces.append(Kept(name[:1].upper() + name[1:], shown))
    leaf = Leaf(
        "Trace and draw",
        tuple(pieces),
        blanks=(Blank("Name", wide=True), Blank("Date")),
        notes=("Go over the grey ones with a pencil. Then draw your own in the empty places.",),
    )
    return Handout(
        title=leaf.title,
        lang="en",
        region="us" if words == "us" else "gb",
        paper=TYPST_PAPER[size],
        text_pt=min(text_points(stave_mm), 13.0),
        margins=MARGINS,
        foot="",
        page_word="page",
        of_word="of",
        leaves=(leaf,),
    )


def row(sign: Sign, prefix: str, width_mm: float, stave_mm: float) -> tuple[Picture, int, int]:
    """A stave with the sign in black, grey copies and empty places: the picture, how many grey, how many empty.

    Raises:
        EngravingError: the sign is not found in its own picture.
    """
    picture = engrave(sign.score, prefix=prefix, stave_mm=stave_mm, width_mm=width_mm, fit="full")
    found = re.search(_SIGN.format(kind=sign.kind), picture.svg)
    if found is None:
        raise EngravingError(f"the {sign.name} is not where it used to be in the drawing")
    glyph, y, scale = found.groups()
    stave = picture.places.staves[0]
    places = max(4, int((stave.right - stave.left) // (_PLACE * UNITS)))
    step = (stave.right - stave.left) / places
    grey = places // 2
    drawn: list[str] = []
    for place in range(grey + 1):
        x = stave.left - 40 + place * step + _LEFT * UNITS
        colour = "" if place == 0 else f' color="{GREY}" fill="{GREY}"'
        use = f'<use xlink:href="{glyph}" transform="translate({x:.0f}, {y}) {scale}"/>'
        drawn.append(f'<g class="{sign.kind}"{colour}>{use}</g>')
    top, bottom = stave.top - 80, stave.bottom - 80
    for place in range(1, places + 1):
        x = stave.left - 40 + place * step - (8 if place == places else 0)
        drawn.append(f'<path d="M{x:.0f} {top:.0f} L{x:.0f} {bottom:.0f}" stroke="{GREY}" stroke-width="14"/>')
    svg = picture.svg.replace(found.group(0), "".join(drawn), 1)
    return replace(picture, svg=svg), grey, places - grey - 1
