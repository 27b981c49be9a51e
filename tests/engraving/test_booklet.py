"""The booklet of notes as PDF: accessible, reproducible, whole, its answers on pages of their own."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from functools import lru_cache
from pathlib import Path

import page as checker
import pytest

from engraving.test_pages import opened, words_of
from stavewright.engraving.booklet import booklet, rule_pieces
from stavewright.engraving.handout import Band, Slips, Table
from stavewright.engraving.printer import Printer
from stavewright.engraving.sheet_printer import SheetPrinter
from stavewright.services.revision_notes import Notes, revision_notes
from stavewright.wiring import composed_melodies, music_writer


@lru_cache(maxsize=8)
def made(grade: int, topics: tuple[str, ...] = (), words: str = "uk") -> Notes:
    return revision_notes(
        grade=grade, melodies=composed_melodies(), write_music=music_writer(), topics=topics, words=words
    )


@pytest.mark.parametrize(("grade", "size", "stave"), [(1, "a4", 7), (3, "letter", 8), (5, "a4", 7)])
def test_the_notes_pass_pdf_ua_and_say_every_rule(grade: int, size: str, stave: int) -> None:
    """Tagged to PDF/UA-1 (ISO 14289-1); the title of each rule can be found in the text."""
    notes = made(grade)
    pdf = SheetPrinter(size, stave).notes(notes)
    report = checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1)
    assert report.is_compliant, list(report.failures)[:5]
    said = " ".join(words_of(pdf).split())
    for topic in notes.topics:
        for rule in topic.rules:
            assert rule.rule.title in said
    assert ("new in grade" in said) == (grade > 1)
    assert "For example" in said
    assert "Usual slips" in said


def test_long_work_tells_how_far_it_is() -> None:
    """A topic at a time, and the pages at the end."""
    told: list[tuple[int, int]] = []
    SheetPrinter().notes(made(1, ("keys", "chords")), lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]


def test_large_print_passes_too() -> None:
    pdf = SheetPrinter(stave_mm=16).notes(made(1, ("notes",)))
    assert checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1).is_compliant


def test_test_and_answers_are_on_pages_of_their_own() -> None:
    """The self-test begins a page, and so do its answers."""
    with opened(SheetPrinter().notes(made(2, ("keys",)))) as document:
        pages = [one.get_textpage().get_text_bounded() for one in document]
    first = [page.splitlines()[0].strip() for page in pages]
    assert first.index("Self-test") < first.index("Answers")
    assert not any("Self-test" in page for page in pages[1 : first.index("Self-test")])


def test_contents_lead_to_the_topics() -> None:
    with opened(SheetPrinter().notes(made(1, ("keys", "chords")))) as document:
        front = document[0].get_textpage().get_text_bounded()
        for line in front.splitlines():
            title, _, number = line.strip().rpartition(" ")
            if number.isdigit() and "...." in title:
                name = title.strip(" .")
                assert name in document[int(number) - 1].get_textpage().get_text_bounded()
    assert "Keys and key signatures" in front
    assert "Chords and cadences" in front


def test_us_words_all_through() -> None:
    """Rules, tables, examples and slips: no UK word is left."""
    said = words_of(SheetPrinter().notes(made(3, ("values", "metre"), "us"))).lower()
    for word in ("crotchet", "minim", "quaver", "semibreve"):
        assert word not in said
    assert "dotted quarter note" in said


def test_slips_stand_in_a_table_wrong_beside_right() -> None:
    """Where the answer is music both are drawn; where it is words, both are said."""
    notes = made(1)
    sheet = Printer().sheet(notes.test)
    found = [
        piece
        for topic in notes.topics
        for rule in topic.rules
        for piece in rule_pieces(sheet, rule, 1)
        if isinstance(piece, Slips)
    ]
    assert len(found) >= 15
    for piece in found:
        for slip in piece.slips:
            assert (slip.wrong.picture is None) == (slip.right.picture is None)
            assert slip.wrong != slip.right
            assert slip.remedy


def test_pictures_have_alternatives_and_rows_are_level() -> None:
    notes = made(1, ("values",))
    made_ = booklet(Printer().sheet(notes.test), notes)
    bands = [piece for leaf in made_.leaves for piece in leaf.pieces if isinstance(piece, Band)]
    assert bands
    for band in bands:
        tops = {round(cell.picture.drop + cell.picture.above, 1) for cell in band.cells if cell.picture}
        assert len(tops) == 1
        assert all(cell.picture is None or cell.picture.alt for cell in band.cells)


def test_the_terms_are_one_table() -> None:
    notes = made(1, ("terms",))
    made_ = booklet(Printer().sheet(notes.test), notes)
    tables = [piece for leaf in made_.leaves for piece in leaf.pieces if isinstance(piece, Table)]
    assert [one.head[0] for one in tables] == ["Term"]


CODE = f"""
import hashlib, sys
sys.path.insert(0, {str(Path(__file__).parent.parent)!r})
from engraving.test_booklet import made
from stavewright.engraving.sheet_printer import SheetPrinter
print(hashlib.sha256(SheetPrinter().notes(made(2, ("scales",)))).hexdigest())
"""


def test_the_same_notes_give_the_same_bytes_in_another_process() -> None:
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True, timeout=120)
    assert done.stdout.strip() == hashlib.sha256(SheetPrinter().notes(made(2, ("scales",)))).hexdigest()
