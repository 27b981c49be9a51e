"""Papers as PDF: accessible, reproducible, complete, and with nothing on them that gives an answer away."""

from __future__ import annotations

import ctypes
import hashlib
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import msgspec
import page as checker
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from msgspec.structs import replace

from engraving.sample_papers import every_kind
from stavewright.engraving import documents, page
from stavewright.engraving.errors import EngravingError, PageError
from stavewright.engraving.gallery import Gallery
from stavewright.engraving.layout import Shown, Words
from stavewright.engraving.printer import PAPER_SET, Printer
from stavewright.engraving.sheet import SheetOf
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script
from stavewright.papers.documents import Paper, Script
from stavewright.questions.asking import facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import FullQuestion, TextBlock
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

OUR_FONTS = {"AtkinsonHyperlegibleNext", "LibreCaslonText", "LiberationSerif", "StavewrightNotes"}


@contextmanager
def opened(pdf: bytes) -> Iterator[pypdfium2.PdfDocument]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        yield document
    finally:
        document.close()


def words_of(pdf: bytes) -> str:
    with opened(pdf) as document:
        return "\n".join(one.get_textpage().get_text_bounded() for one in document)


def sheet_of(paper: Paper) -> SheetOf:
    return Printer().sheet(paper)


def five_documents(paper: Paper, printer: Printer) -> dict[str, bytes]:
    script = fill(paper, ability=0.5, seed=2)
    made = printer.paper_set(paper)
    made["script"] = printer.script(paper, script)
    made["marked-script"] = printer.marked_script(paper, script, mark_script(paper, script))
    return made


@pytest.mark.parametrize(
    ("grade", "edition", "size"), [(5, "written", "a4"), (5, "on-screen", "letter"), (2, "written", "letter")]
)
def test_every_kind_prints_and_passes_pdf_ua(grade: int, edition: str, size: str) -> None:
    """All five documents with every kind of question: tagged to PDF/UA-1 (ISO 14289-1), no rule failed."""
    for name, pdf in five_documents(every_kind(grade, edition), Printer(size=size)).items():
        report = checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1)
        assert report.is_compliant, (name, list(report.failures)[:5])


def test_large_print_passes_too() -> None:
    """16 mm staves: larger words, more pages, the same rules kept."""
    paper = every_kind(3, parts=1)
    usual, large = Printer(stave_mm=7).question_paper(paper), Printer(stave_mm=16).question_paper(paper)
    report = checker.validate_pdf_bytes(large, profile=checker.ValidationProfile.PDF_UA_1)
    assert report.is_compliant
    with opened(usual) as one, opened(large) as other:
        assert len(other) > 1.5 * len(one)


def test_the_checker_would_find_a_fault() -> None:
    """The check itself: an untagged PDF fails."""
    import typst

    plain = bytes(typst.compile(b"#set document(title: [x])\nwords", format="pdf", pdf_tags=False))
    assert not checker.validate_pdf_bytes(plain, profile=checker.ValidationProfile.PDF_UA_1).is_compliant


@pytest.mark.parametrize(("size", "points"), [("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_paper_sizes(size: str, points: tuple[float, float]) -> None:
    """A4 is 210 by 297 mm (ISO 216), US letter 8.5 by 11 inches."""
    with opened(Printer(size=size).question_paper(every_kind(1, parts=1))) as document:
        assert all(one.get_size() == pytest.approx(points, abs=0.5) for one in document)


def test_all_fonts_are_ours_and_embedded() -> None:
    """No font of the machine is used, and every font travels in the file."""
    found: dict[str, bool] = {}
    with opened(Printer().model_answers(every_kind(5))) as document:
        for one in document:
            for item in one.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=8):
                font = pdfium.FPDFTextObj_GetFont(item.raw)
                buffer = ctypes.create_string_buffer(200)
                pdfium.FPDFFont_GetBaseFontName(font, buffer, 200)
                found[buffer.value.decode()] = bool(pdfium.FPDFFont_GetIsEmbedded(font))
    assert found
    assert all(found.values())
    families = {name.split("+")[-1].split("-")[0] for name in found}
    assert families <= OUR_FONTS, families


def test_text_is_text() -> None:
    """Words can be selected and searched, those inside music too."""
    paper = every_kind(3)
    said = words_of(Printer().question_paper(paper))
    assert "Practice paper for grade 3" in said
    assert "to be confirmed with your teacher" in said
    assert f"{paper.total} marks" in said
    with opened(Printer().question_paper(paper)) as document:
        count = len(document)
    assert f"page {count} of {count}" in said


def test_the_question_paper_is_made_without_the_answers() -> None:
    """The pupil's paper is the same, to the byte of its data, when every answer, step and slip is taken away."""
    for edition in ("written", "on-screen"):
        paper = every_kind(5, edition)
        bare = replace(
            paper,
            sections=tuple(
                replace(
                    section,
                    questions=tuple(replace(one, answers=(), working=(), slips=()) for one in section.questions),
                )
                for section in paper.sections
            ),
        )
        pages = [msgspec.json.encode(documents.question_page(sheet_of(one))) for one in (paper, bare)]
        assert pages[0] == pages[1]


def test_every_question_part_and_mark_is_on_the_paper() -> None:
    """Each part's letter and each question's text is printed; the marks of all parts add up to the total."""
    paper = every_kind(4)
    made = documents.question_page(sheet_of(paper))
    marks = 0
    for section in made.sections:
        for question in section.questions:
            own = [int(part.marks) for part in question.parts if part.marks]
            marks += sum(own) if own and not question.marks else int(question.marks)
    assert marks == paper.total
    assert sum(len(q.parts) for s in made.sections for q in s.questions) == sum(1 for _ in paper.questions())


def test_shared_music_is_printed_once() -> None:
    """The parts of a group share one stimulus, printed once above them."""
    paper = every_kind(5)
    reading = [section for section in paper.sections if section.title == "Reading music"]
    if not reading or len(reading[0].questions) < 2:
        pytest.fail("the sample paper needs an extract with parts")
    made = documents.question_page(sheet_of(replace(paper, sections=tuple(reading))))
    question = made.sections[0].questions[0]
    assert sum(isinstance(item, Shown) for item in question.items) >= 1
    shared = {item.svg for item in question.items if isinstance(item, Shown)}
    assert not any(isinstance(item, Shown) and item.svg in shared for part in question.parts for item in part.items)


def test_no_page_ends_with_the_head_of_a_question_or_section() -> None:
    """A heading stays with its first part: it is never the last line of a page."""
    paper = every_kind(5, parts=3)
    made = documents.question_page(sheet_of(paper))
    heads = {section.title for section in made.sections}
    heads |= {f"{question.number}{question.title}" for section in made.sections for question in section.questions}
    squeezed = {head.replace(" ", "") for head in heads}
    with opened(page.pdf(made)) as document:
        assert len(document) > 4
        for one in document:
            lines = [
                line.replace(" ", "") for line in one.get_textpage().get_text_bounded().splitlines() if line.strip()
            ]
            body = [line for line in lines if not line.startswith(("Paper", "page"))]
            assert body[-1] not in squeezed


def test_the_same_paper_gives_the_same_bytes() -> None:
    """A paper printed twice, alone or after other documents, is the same file."""
    paper = every_kind(3, parts=2)
    first = Printer().question_paper(paper)
    printer = Printer()
    again = printer.paper_set(paper)
    assert set(again) == set(PAPER_SET)
    assert again["paper"] == first == printer.question_paper(paper)


def test_the_same_bytes_in_two_processes() -> None:
    """Two processes with different hash seeds print byte-identical PDFs."""
    program = (
        "import sys, hashlib; sys.path.insert(0, 'tests')\n"
        "from engraving.test_pages import five_documents\n"
        "from engraving.sample_papers import every_kind\n"
        "from stavewright.engraving.printer import Printer\n"
        "made = five_documents(every_kind(3, parts=1), Printer())\n"
        "print({name: hashlib.sha256(pdf).hexdigest() for name, pdf in made.items()})"
    )
    runs = [
        subprocess.run([sys.executable, "-c", program], env={"PYTHONHASHSEED": seed}, capture_output=True, check=True)
        for seed in ("1", "99")
    ]
    assert runs[0].stdout == runs[1].stdout != b""
    made = five_documents(every_kind(3, parts=1), Printer())
    assert hashlib.sha256(made["paper"]).hexdigest() in runs[0].stdout.decode()


def with_text(paper: Paper, text: str) -> Paper:
    """The paper with the words of its very first question changed."""
    section = paper.sections[0]
    first: FullQuestion = replace(section.questions[0], prompt=(TextBlock(text),), group=None)
    return replace(paper, sections=(replace(section, questions=(first,)),))


@pytest.mark.parametrize(
    "evil", ['#panic("x") $x$ _a_ *b* `c` \\ @d <e> // f', '"}]} #read("/etc/passwd")', "[#1](http://x)"]
)
def test_hostile_words_are_printed_as_they_are(evil: str) -> None:
    """Words reach the page as data: nothing in them is run, nothing is lost."""
    said = words_of(Printer().question_paper(with_text(every_kind(1, parts=1), evil)))
    assert "".join(evil.split()) in "".join(said.split())


def test_accidentals_in_words_have_glyphs() -> None:
    """Sharps, flats, naturals and the double signs in words are drawn, never as empty boxes."""
    said = "F\u266f B\u266d E\u266e G\U0001d12a A\U0001d12b \U0001d134 \U0001d135"
    paper = with_text(every_kind(1, parts=1), said)
    with opened(Printer().question_paper(paper)) as document:
        fonts = set()
        for item in document[0].get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=8):
            buffer = ctypes.create_string_buffer(200)
            pdfium.FPDFFont_GetBaseFontName(pdfium.FPDFTextObj_GetFont(item.raw), buffer, 200)
            fonts.add(buffer.value.decode().split("+")[-1].split("-")[0])
    assert "StavewrightNotes" in fonts
    assert fonts <= OUR_FONTS


def test_a_picture_without_text_alternative_is_refused() -> None:
    """Every picture of music says in words what is there: without that nothing is printed."""
    gallery = Gallery(7.0, 260.0)
    picture = gallery.of(single("treble", (Note(Pitch("C", 0, 5), Duration("minim")),)))
    with pytest.raises(EngravingError, match="needs a text alternative"):
        gallery.shown(picture, "  ")


def test_a_page_typst_refuses_is_a_named_error() -> None:
    paper = every_kind(1, parts=1)
    made = documents.question_page(sheet_of(paper))
    broken = replace(made.sections[0].questions[0], items=(Words("x", tone="no-such-tone"),))
    section = replace(made.sections[0], questions=(broken,))
    with pytest.raises(PageError, match="could not be set"):
        page.pdf(replace(made, sections=(section,)))


@pytest.mark.parametrize(("size", "stave_mm", "said"), [("a5", 7, "'a5'"), ("a4", 9, "not 9"), ("a4", 0, "not 0")])
def test_unknown_sizes_are_refused(size: str, stave_mm: float, said: str) -> None:
    with pytest.raises(PageError, match=said):
        Printer(size=size, stave_mm=stave_mm)


def test_a_script_of_another_paper_is_refused() -> None:
    """A script is printed only on its own paper."""
    paper = every_kind(1, parts=1)
    with pytest.raises(PageError, match="belongs to paper 'other'"):
        Printer().script(paper, Script("other", {}))
    report = replace(mark_script(paper, Script(paper.id, {})), paper="other")
    with pytest.raises(PageError, match="report belongs to paper 'other'"):
        Printer().marked_script(paper, Script(paper.id, {}), report)


def test_an_empty_script_prints_like_the_paper_with_every_question_not_yet_right() -> None:
    """Nothing written: every answer is "Not yet", with what to do."""
    paper = every_kind(2, parts=1)
    script = Script(paper.id, {})
    said = words_of(Printer().marked_script(paper, script, mark_script(paper, script)))
    assert said.count("Not yet") == sum(1 for _ in paper.questions())
    assert f"Total: 0 of {paper.total}" in said


def test_marks_always_come_with_the_word() -> None:
    """Tick, half-tick and ring never stand alone: the word and the marks are beside each."""
    paper = every_kind(3)
    script = fill(paper, ability=0.6, seed=4)
    report = mark_script(paper, script)
    made = documents.marked_page(sheet_of(paper), script, report)
    verdicts = list(msgspec.json.decode(msgspec.json.encode(made))["sections"])
    found: list[tuple[str, str]] = []

    def look(node: object) -> None:
        if isinstance(node, dict):
            if node.get("t") == "verdict":
                found.append((node["kind"], node["word"]))
            for value in node.values():
                look(value)
        elif isinstance(node, list):
            for value in node:
                look(value)

    look(verdicts)
    assert len(found) == len(report.questions)
    assert set(found) <= {("right", "Right"), ("part", "Part right"), ("wrong", "Not yet")}
    right = sum(one.marks == one.of for one in report.questions)
    assert sum(kind == "right" for kind, _ in found) == right


def test_us_words() -> None:
    """A US paper says measures and quarter notes, and names its language so."""
    paper = every_kind(1, words="us")
    made = documents.answers_page(sheet_of(paper))
    said = msgspec.json.encode(made).decode().lower()
    assert made.region == "us"
    assert "semibreve" not in said
    assert "crotchet" not in said


def test_the_mark_scheme_names_every_accepted_answer_and_slip() -> None:
    """Marks split, every accepted answer with its reason (composed ones: what earns the marks), each slip's name."""
    paper = every_kind(3)
    said = msgspec.json.encode(documents.scheme_page(sheet_of(paper))).decode()
    for question in paper.questions():
        report = kind_of(question.kind).report
        earned = [answer.reason for answer in question.answers]
        if report is not None:
            earned = [one.earns for one in report(facts_of(question), question.answers[0].value[0])]
        for text in earned:
            assert msgspec.json.encode(text).decode() in said
        for slip in question.slips:
            assert (slip.name if report is not None else msgspec.json.encode(slip.name).decode()) in said


def test_progress_is_told() -> None:
    heard: list[tuple[int, int]] = []
    Printer().paper_set(every_kind(1, parts=1), lambda done, of: heard.append((done, of)))
    assert heard[-1][0] == heard[-1][1]
    assert heard == sorted(heard)
