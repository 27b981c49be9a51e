"""What all five documents of a paper share: its words, its size, its head and foot."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.engraving.errors import PageError
from stavewright.engraving.forms import FormSetter
from stavewright.engraving.gallery import Gallery
from stavewright.engraving.layout import Blank, Page, Sectioned
from stavewright.engraving.page import TEXT_WIDTH_MM, TYPST_PAPER, text_points
from stavewright.engraving.printed import After, Dress, Setting, undressed
from stavewright.engraving.saying import Say, sayer
from stavewright.papers.documents import Paper

EDITION_WORDS = {
    "written": "written edition",
    "on-screen": "on-screen edition",
    "written+on-screen": "written and on-screen editions mixed",
}


@dataclass(frozen=True, slots=True)
class SheetOf:
    """A paper about to be printed: where its pictures come from, the paper size and the stave height in mm."""

    paper: Paper
    gallery: Gallery
    size: str
    stave_mm: float

    @property
    def say(self) -> Say:
        """UK words or US words, as the paper has them."""
        return sayer(self.paper.words)

    @property
    def width(self) -> float:
        """The width of the text in mm."""
        return TEXT_WIDTH_MM[self.size]

    @property
    def forms(self) -> FormSetter:
        """The setter of response forms at this size."""
        return FormSetter(self.gallery, self.say, 1.95 * text_points(self.stave_mm) / 11)

    def set(
        self, after: After, *, dress: Dress = undressed, batteries: bool = True, dense: bool = False
    ) -> tuple[Sectioned, ...]:
        """All sections, with `after` below each prompt."""
        setting = Setting(self.gallery, self.forms, self.say, self.width, after, dress, batteries, dense)
        return setting.sections(self.paper)

    def page(
        self,
        title: str,
        sections: tuple[Sectioned, ...],
        *,
        subtitle: str = "Practice paper, {}",
        blanks: tuple[Blank, ...] = (),
        notes: tuple[str, ...] = (),
        credits: bool = True,
        table: tuple[tuple[str, ...], ...] = (),
        table_title: str = "",
    ) -> Page:
        """The whole document."""
        say = self.say
        edition = EDITION_WORDS.get(self.paper.edition, self.paper.edition)
        return Page(
            title=title,
            subtitle=_capital(say(subtitle.format(edition))),
            lang="en",
            region="us" if self.paper.words == "us" else "gb",
            paper=TYPST_PAPER[self.size],
            text_pt=text_points(self.stave_mm),
            stave_mm=self.stave_mm,
            blanks=blanks,
            notes=tuple(say(note) for note in notes),
            sections=sections,
            foot=f"Paper {self.paper.id}",
            page_word="page",
            of_word="of",
            part_word="part",
            question_word="Question",
            credits_title=say("Where the music comes from"),
            credits=tuple(dict.fromkeys(self.paper.credits)) if credits else (),
            table=table,
            table_title=say(table_title),
        )

    def own(self, what: str, paper_id: str) -> None:
        """Refuse a script or report of another paper.

        Raises:
            PageError: the ids differ.
        """
        if paper_id != self.paper.id:
            raise PageError(f"the {what} belongs to paper {paper_id!r}, not to {self.paper.id!r}")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
