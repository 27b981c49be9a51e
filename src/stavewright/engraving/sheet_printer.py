"""The printer of sheets for lessons: questions, and their answers on pages of their own, as PDF by name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stavewright.engraving import page as pages
from stavewright.engraving.booklet import booklet
from stavewright.engraving.lesson_page import fitted, lesson_answers
from stavewright.engraving.lesson_sheets import Heading, handout, key_leaf, question_leaf, worked_leaf
from stavewright.engraving.manuscript import manuscript
from stavewright.engraving.printer import Printer
from stavewright.engraving.tracing import tracing
from stavewright.papers.documents import Paper
from stavewright.services.ports import Progress, silent
from stavewright.services.revision_notes import Notes
from stavewright.services.set_lesson import Lesson
from stavewright.syllabus.scope import Scope

VERSIONS = "ABCD"


@dataclass(slots=True)
class SheetPrinter:
    """Prints sheets on A4 ("a4") or US letter ("letter"), staves `stave_mm` high.

    Raises:
        PageError: an unknown paper size or a stave size that nothing is printed in.
    """

    size: str = "a4"
    stave_mm: float = 7
    printer: Printer = field(init=False)

    def __post_init__(self) -> None:
        self.printer = Printer(self.size, self.stave_mm)

    def sheets(self, papers: Sequence[Paper], head: Heading, *, name: str, working: bool = False) -> dict[str, bytes]:
        """One sheet a paper, by file name without its ending; several papers are versions A, B and so on.

        The answers of all versions are one document, each version on a page of its own with its letter in the corner.

        Raises:
            EngravingError: music that cannot be drawn.
            PageError: a page that cannot be set.
        """
        sheets = [self.printer.sheet(one) for one in papers]
        letters = VERSIONS[: len(papers)] if len(papers) > 1 else ("",)
        found: dict[str, bytes] = {}
        for sheet, letter in zip(sheets, letters, strict=True):
            own = f"{name}-{letter.lower()}" if letter else name
            found[own] = pages.pdf(handout([sheet], [question_leaf(sheet, head, letter)], foot=own))
        leaf = worked_leaf if working else key_leaf
        answers = [leaf(sheet, head, letter) for sheet, letter in zip(sheets, letters, strict=True)]
        found[f"{name}-answers"] = pages.pdf(handout(sheets, answers, foot=f"{name} answers", credits=False))
        return found

    def notes(self, notes: Notes, progress: Progress = silent) -> bytes:
        """The notes of a grade as a booklet, the self-test and its answers at the back; topics done are told.

        Raises:
            EngravingError: music that cannot be drawn.
            PageError: a page that cannot be set.
        """
        made = pages.pdf(booklet(self.printer.sheet(notes.test), notes, progress))
        progress(len(notes.topics) + 1, len(notes.topics) + 1)
        return made

    def lesson(self, lesson: Lesson) -> tuple[Lesson, dict[str, bytes]]:
        """A lesson on one side, with as much homework as it holds, and its answers, by file name without its ending.

        Raises:
            EngravingError: music that cannot be drawn.
            PageError: it does not fit one side.
        """
        kept, side = fitted(self.printer, lesson)
        answers = pages.pdf(lesson_answers(self.printer.sheet(kept.paper()), kept))
        return kept, {kept.id: side, f"{kept.id}-answers": answers}

    def manuscript(self, clef: str = "none", lines: int | None = None, bars: int = 0, sides: int = 1) -> bytes:
        """Manuscript paper: `lines` staves (or piano systems) on each of so many sides, divided into `bars`.

        Raises:
            PageError: an unknown clef, or more than a page holds.
        """
        stave = float(self.stave_mm)
        made = manuscript(clef=clef, lines=lines, bars=bars, pages=sides, size=self.size, stave_mm=stave)
        return pages.pdf(made)

    def tracing(self, scope: Scope, kinds: tuple[str, ...], words: str = "uk") -> bytes:
        """A sheet to trace the "clefs" and "rests" of a grade on.

        Raises:
            EngravingError: a sign that cannot be drawn.
        """
        return pages.pdf(tracing(scope, kinds, size=self.size, stave_mm=float(self.stave_mm), words=words))
