"""The figures of the word game, drawn by us part by part: a metronome, a music stand, a fiddle.

A figure is a row of parts; a game of so many goes shows them stage by stage, all of them when the last go is lost.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from math import ceil
from typing import Final

from stavewright.recall.errors import BadMove

WIDTH, HEIGHT = 200, 240
"""The size of every figure in units of its view box."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure: its name, and its parts in the order they are put together, each with its name and its drawing."""

    name: str
    parts: tuple[tuple[str, str], ...]

    def standing(self, stage: int, goes: int) -> tuple[str, ...]:
        """The names of the parts that stand after so many wrong letters of so many goes.

        Raises:
            BadMove: no goes, or a stage that the game does not have.

        >>> FIGURES["metronome"].standing(1, 12)
        ('the base',)
        """
        if not 0 <= stage <= goes or goes < 1:
            raise BadMove(f"a game of {goes} goes has no stage {stage}")
        return tuple(name for name, _ in self.parts[: ceil(stage * len(self.parts) / goes)])

    def said(self, stage: int, goes: int) -> str:
        """The stage in words, for who cannot see it.

        >>> FIGURES["fiddle"].said(0, 8)
        'Nothing of the fiddle stands yet. 8 goes left.'
        """
        names, left = self.standing(stage, goes), goes - stage
        rest = "No go left." if left == 0 else f"{left} go{'' if left == 1 else 'es'} left."
        if not names:
            return f"Nothing of the {self.name} stands yet. {rest}"
        whole = "The whole" if len(names) == len(self.parts) else "Of the"
        verb = "stands" if len(names) == len(self.parts) else f"there stand {', '.join(names)}"
        return f"{whole} {self.name} {verb}. {rest}"

    def svg(self, stage: int, goes: int, ident: str = "figure") -> str:
        """The stage as one SVG element with title and description; lines take the colour of the text around it."""
        drawn = "".join(drawing for _, drawing in self.parts[: len(self.standing(stage, goes))])
        title = escape(f"The {self.name}")
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
            f'aria-labelledby="{ident}-t {ident}-d"><title id="{ident}-t">{title}</title>'
            f'<desc id="{ident}-d">{escape(self.said(stage, goes))}</desc>'
            f'<g fill="none" stroke="currentColor" stroke-width="4" stroke-linecap="round" stroke-linejoin="round">'
            f"{drawn}</g></svg>"
        )


def _path(*strokes: str) -> str:
    return "".join(f'<path d="{stroke}"/>' for stroke in strokes)


_DOT: Final = '<circle cx="{}" cy="{}" r="{}" fill="currentColor" stroke="none"/>'


def _dots(*spots: tuple[float, float, float]) -> str:
    return "".join(_DOT.format(*spot) for spot in spots)


METRONOME: Final = Figure(
    "metronome",
    (
        ("the base", _path("M28 206 H172 V224 H28 Z")),
        ("the left side", _path("M40 206 L78 30")),
        ("the right side", _path("M160 206 L122 30")),
        ("the cap", _path("M78 30 Q100 14 122 30 Z")),
        ("the lower board", _path("M48 168 H152")),
        ("the scale", _path("M88 52 V150", "M112 52 V150")),
        ("the marks", _path(*(f"M92 {y} H108" for y in range(62, 150, 14)))),
        ("the rod", _path("M100 190 L128 26")),
        ("the weight", '<path d="M104 92 L126 96 L121 118 L105 115 Z" fill="currentColor"/>'),
        ("the key", _path("M160 190 H178", "M178 182 V198")),
        ("the feet", _dots((44, 229, 6), (156, 229, 6))),
        ("the tick", _path("M146 34 Q160 42 164 58", "M156 20 Q176 32 182 54")),
    ),
)

STAND: Final = Figure(
    "music stand",
    (
        ("the left foot", _path("M100 196 L52 226")),
        ("the right foot", _path("M100 196 L148 226")),
        ("the middle foot", _path("M100 196 V230")),
        ("the lower pole", _path("M100 196 V150")),
        ("the screw", _dots((100, 148, 6)) + _path("M106 148 H120")),
        ("the upper pole", _path("M100 144 V112")),
        ("the desk", _path("M32 112 L44 34 H156 L168 112 Z")),
        ("the ledge", _path("M24 112 H176 V120 H24 Z")),
        ("the sheet", '<path d="M58 104 L64 44 H136 L142 104 Z" stroke-width="2.5"/>'),
        ("the staves", f'<g stroke-width="1.6">{_path(*(f"M66 {y} H134" for y in (58, 63, 68, 73, 86, 91, 96)))}</g>'),
        ("the notes", _dots((78, 72, 4), (96, 66, 4), (114, 61, 4), (88, 94, 4), (118, 89, 4))),
        ("the pencil", _path("M128 108 L160 108", "M160 108 L166 106")),
    ),
)

FIDDLE: Final = Figure(
    "fiddle",
    (
        ("the lower bout", _path("M74 150 C50 160 46 204 74 220 C90 229 110 229 126 220 C154 204 150 160 126 150")),
        ("the upper bout", _path("M78 128 C58 120 62 92 80 88 C92 85 108 85 120 88 C138 92 142 120 122 128")),
        ("the waist", _path("M74 150 C82 144 84 134 78 128", "M126 150 C118 144 116 134 122 128")),
        ("the left sound hole", _path("M86 158 C80 163 90 180 84 186")),
        ("the right sound hole", _path("M114 158 C120 163 110 180 116 186")),
        ("the neck", _path("M95 88 V36", "M105 88 V36")),
        ("the fingerboard", '<path d="M95 36 H105 L108 122 H92 Z" fill="currentColor"/>'),
        ("the scroll", _path("M95 36 C90 18 112 12 112 24 C112 32 100 32 102 25")),
        ("the pegs", _path("M84 32 H94", "M106 32 H116", "M84 42 H94", "M106 42 H116")),
        ("the bridge", _path("M90 170 Q100 163 110 170")),
        ("the tailpiece", '<path d="M94 178 H106 L103 214 H97 Z" fill="currentColor"/>'),
        ("the strings", f'<g stroke-width="1.4">{_path(*(f"M{x} 122 V178" for x in (95, 98.4, 101.8, 105)))}</g>'),
        ("the bow", _path("M150 226 L186 40") + f'<g stroke-width="1.6">{_path("M158 222 L190 48")}</g>'),
    ),
)

FIGURES: Final = {one.name: one for one in (METRONOME, STAND, FIDDLE)}
"""The figures by name."""
