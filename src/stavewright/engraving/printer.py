"""The printer of papers: question paper, model answers, mark scheme, script and marked script as PDF."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Final

from stavewright.engraving import page as pages
from stavewright.engraving.chair import chair_page
from stavewright.engraving.documents import answers_page, marked_page, question_page, scheme_page, script_page
from stavewright.engraving.errors import PageError
from stavewright.engraving.gallery import Gallery
from stavewright.engraving.layout import Page
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.svg import STAVE_SIZES
from stavewright.marking.chair import Chair
from stavewright.marking.documents import Report
from stavewright.marking.naming import shown_report
from stavewright.papers.documents import Paper, Script
from stavewright.papers.naming import shown_paper

Progress = Callable[[int, int], None]

PAPER_SET: Final = ("paper", "model-answers", "mark-scheme")
"""The three documents of a paper, by the name their files bear."""


def _silent(done: int, of: int) -> None:
    pass


@dataclass(slots=True)
class Printer:
    """Prints papers on A4 ("a4") or US letter ("letter"), staves `stave_mm` high; pictures are engraved once.

    Raises:
        PageError: an unknown paper size or a stave size that no paper is printed in.

    >>> Printer(size="a4", stave_mm=7).stave_mm
    7
    """

    size: str = "a4"
    stave_mm: float = 7
    gallery: Gallery = field(init=False)

    def __post_init__(self) -> None:
        if self.size not in pages.TYPST_PAPER:
            raise PageError(f"papers are printed on {' or '.join(pages.TYPST_PAPER)}, not {self.size!r}")
        if self.stave_mm not in STAVE_SIZES:
            sizes = ", ".join(f"{one:g}" for one in STAVE_SIZES)
            raise PageError(f"staves are printed {sizes} mm high, not {self.stave_mm:g}")
        self.gallery = Gallery(float(self.stave_mm), pages.TEXT_HEIGHT_MM[self.size])

    def paper_set(self, paper: Paper, progress: Progress = _silent) -> dict[str, bytes]:
        """Question paper, model answers with working, and mark scheme, as PDF by name.

        Raises:
            EngravingError: music that cannot be drawn.
            PageError: a page that cannot be set.
        """
        makers = (question_page, answers_page, scheme_page)
        printing: list[Future[bytes]] = []
        # A page is set (without Python's lock) while the next one's music is engraved.
        with ThreadPoolExecutor(2) as pool:
            for done, make in enumerate(makers, 1):
                printing.append(pool.submit(pages.pdf, make(self.sheet(paper))))
                progress(done, len(makers) + 1)
        found = [one.result() for one in printing]
        progress(len(makers) + 1, len(makers) + 1)
        return dict(zip(PAPER_SET, found, strict=True))

    def question_paper(self, paper: Paper) -> bytes:
        """The paper that a pupil works, as PDF."""
        return pages.pdf(question_page(self.sheet(paper)))

    def model_answers(self, paper: Paper) -> bytes:
        """Every question with its model answer and the worked steps, as PDF."""
        return pages.pdf(answers_page(self.sheet(paper)))

    def mark_scheme(self, paper: Paper) -> bytes:
        """What earns marks: accepted answers with reasons, the split, and the answers of known slips, as PDF."""
        return pages.pdf(scheme_page(self.sheet(paper)))

    def script(self, paper: Paper, script: Script) -> bytes:
        """A pupil's answered paper as the pupil wrote it, as PDF.

        Raises:
            PageError: the script belongs to another paper.
        """
        return pages.pdf(script_page(self.sheet(paper), script))

    def marked_script(self, paper: Paper, script: Script, report: Report) -> bytes:
        """The script with tick, half-tick or ring, marks, slip and remedy beside each answer, as PDF.

        Raises:
            PageError: script or report belong to another paper.
        """
        return pages.pdf(marked_page(self.sheet(paper), script, shown_report(paper, report)))

    def chair(self, paper: Paper, chair: Chair) -> bytes:
        """An invented script to be marked by a pupil, with the slips to pick from, as PDF.

        Raises:
            PageError: the script belongs to another paper.
        """
        return pages.pdf(chair_page(self.sheet(paper), chair))

    def pictures(self, made: Page, ppi: float = 80.0) -> list[bytes]:
        """The pages of a document as PNG, to be looked at."""
        return pages.pictures(made, ppi)

    def sheet(self, paper: Paper) -> SheetOf:
        """A paper with this printer's size and pictures: what the documents are made from."""
        return SheetOf(shown_paper(paper), self.gallery, self.size, float(self.stave_mm))
