"""Pictures for a person to look at: hard cases of engraving at every stave size, and the pages of a paper.

`.venv/bin/python scripts/pictures_to_look_at.py FOLDER [GRADE]` writes PNG files. Look at them after each change to
engraving: what a test counts as right may still look wrong.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import typst

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from engraving.hard_cases import cases
from stavewright.engraving import documents, page
from stavewright.engraving.booklet import booklet
from stavewright.engraving.handout import Handout
from stavewright.engraving.lesson_page import lesson_page
from stavewright.engraving.lesson_sheets import Heading, handout, key_leaf, question_leaf
from stavewright.engraving.printer import Printer
from stavewright.engraving.sheet_printer import SheetPrinter
from stavewright.engraving.svg import STAVE_SIZES, engrave
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script
from stavewright.services.revision_notes import revision_notes
from stavewright.services.set_drill import drill_kinds, set_drill
from stavewright.services.set_lesson import set_lesson
from stavewright.services.set_paper import set_paper
from stavewright.wiring import composed_melodies, music_writer

SHEET = b"""#set page(width: 186mm, height: auto, margin: 8mm)
#set text(font: "Atkinson Hyperlegible Next", size: 7pt)
#for one in json(bytes(sys.inputs.data)) {
  block(breakable: false, below: 4mm)[#text(fill: gray, one.name) #image(bytes(one.svg), width: one.width * 1mm)]
}"""


def sheet(stave_mm: float) -> bytes:
    """All hard cases on one tall picture."""
    drawn = []
    for number, (name, score) in enumerate(cases().items()):
        picture = engrave(score, prefix=f"h{number}", stave_mm=stave_mm, width_mm=170)
        drawn.append({"name": name, "svg": picture.svg, "width": picture.width_mm})
    data = {"data": json.dumps(drawn)}
    made = typst.compile(
        SHEET, sys_inputs=data, format="png", ppi=90, ignore_system_fonts=True, font_paths=[str(page.FONTS)]
    )
    return bytes(made)


def lesson_material(grade: int) -> dict[str, Handout]:
    """A lesson on one side, a drill with its answers, and the notes of a grade."""
    how = {"melodies": composed_melodies(), "write_music": music_writer(), "seed": 1}
    printer = Printer()
    lesson, _ = SheetPrinter().lesson(set_lesson(grade=grade, edition="written", topic="intervals", **how))
    kinds = drill_kinds(grade, "written", topics=("keys",))
    drill = printer.sheet(set_drill(kinds=kinds, grade=grade, edition="written", count=20, **how))
    head = Heading(f"Drill, grade {grade}", "Keys and key signatures")
    notes = revision_notes(grade=grade, **how)
    return {
        "lesson": lesson_page(printer.sheet(lesson.paper()), lesson),
        "drill": handout([drill], [question_leaf(drill, head, "A"), key_leaf(drill, head, "A")], foot="drill"),
        "notes": booklet(printer.sheet(notes.test), notes),
    }


def main(folder: Path, grade: int) -> None:
    """Write every picture."""
    folder.mkdir(parents=True, exist_ok=True)
    for size in STAVE_SIZES:
        (folder / f"hard-cases-{size:g}mm.png").write_bytes(sheet(size))
    paper = set_paper(grade=grade, edition="written", seed=1, melodies=composed_melodies(), write_music=music_writer())
    script = fill(paper, ability=0.7, seed=1)
    made = Printer().sheet(paper)
    pages = {
        "paper": documents.question_page(made),
        "model-answers": documents.answers_page(made),
        "mark-scheme": documents.scheme_page(made),
        "script": documents.script_page(made, script),
        "marked-script": documents.marked_page(made, script, mark_script(paper, script)),
        **lesson_material(grade),
    }
    for name, one in pages.items():
        for number, png in enumerate(page.pictures(one, 60), 1):
            (folder / f"grade-{grade}-{name}-{number:02}.png").write_bytes(png)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 3)
