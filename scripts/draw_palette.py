"""Draw the colours of the themes as four kinds of eyes see them (docs/pictures/palette.svg; a test holds it)."""

from __future__ import annotations

from pathlib import Path

from stavewright.syllabus.colour import VISIONS, seen
from stavewright.syllabus.themes import all_themes

FILE = Path(__file__).parent.parent / "docs" / "pictures" / "palette.svg"
ROW, LEFT, WIDE = 30, 300, 150
PAPER, INK = "#fbf8f1", "#1c1b1a"


def picture() -> str:
    """One theme a row: its title and family, then its tag on its colour to a usual, protan, deutan and tritan eye."""
    themes = list(all_themes().values())
    width, height = LEFT + WIDE * len(VISIONS) + 10, ROW * (len(themes) + 1) + 10
    said = f"The colours of {len(themes)} themes as four kinds of eyes see them"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" aria-label="{said}">',
        '<g font-family="sans-serif" font-size="14">',
        f'<rect width="{width}" height="{height}" fill="{PAPER}"/>',
    ]
    lines += [f'<text x="{LEFT + WIDE * k}" y="20" fill="{INK}">{vision}</text>' for k, vision in enumerate(VISIONS)]
    for number, theme in enumerate(themes, 1):
        top = ROW * number
        lines.append(f'<text x="10" y="{top + 19}" fill="{INK}">{theme.title} ({theme.family})</text>')
        for k, vision in enumerate(VISIONS):
            left = LEFT + WIDE * k
            fill = seen(theme.colour, vision)
            lines.append(f'<rect x="{left}" y="{top}" width="{WIDE - 10}" height="{ROW - 3}" fill="{fill}"/>')
            lines.append(f'<text x="{left + 8}" y="{top + 19}" fill="{theme.ink}">{theme.tag}</text>')
    return "\n".join([*lines, "</g>", "</svg>", ""])


if __name__ == "__main__":
    FILE.write_text(picture(), "utf-8")
