"""`stavewright sheet`: what is written, what is refused, and nothing half-written."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.test_files import listing
from engraving.test_pages import words_of
from stavewright import wiring
from stavewright.cli.main import main
from stavewright.services.documents import read_paper


@pytest.fixture(autouse=True)
def _composed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wiring, "melodies", lambda *_, **__: wiring.composed_melodies())


def run(*arguments: object) -> int:
    return main(["sheet", *map(str, arguments)])


def test_a_drill_is_a_sheet_its_answers_and_a_document_to_mark(tmp_path: Path) -> None:
    out = tmp_path / "new"
    assert run("drill", "--grade", 1, "--kinds", "name-the-note", "--count", 6, "--out", out) == 0
    name = "drill-name-the-note-grade-1-written-1"
    assert set(listing(out)) == {f"{name}.pdf", f"{name}-answers.pdf", f"{name}.json"}
    paper = read_paper((out / f"{name}.json").read_bytes())
    assert (paper.id, paper.total, len(list(paper.questions()))) == (name, 6, 6)
    assert main(["script", str(out / f"{name}.json"), "--ability", "1", "--out", str(tmp_path / "s.json")]) == 0
    assert main(["mark", str(out / f"{name}.json"), str(tmp_path / "s.json")]) == 0


def test_versions_are_sheets_of_their_own(tmp_path: Path) -> None:
    assert run("drill", "--grade", 3, "--topics", "keys", "--versions", 2, "--seed", 4, "--out", tmp_path) == 0
    name = "drill-keys-grade-3-written-4"
    pages = {f"{name}-a.pdf", f"{name}-b.pdf", f"{name}-answers.pdf"}
    assert set(listing(tmp_path)) == {*pages, f"{name}-a.json", f"{name}-b.json"}


def test_a_drill_that_runs_out_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("drill", "--grade", 1, "--kinds", "name-the-signature", "--out", tmp_path) == 0
    assert "8 items, not 20" in capsys.readouterr().err


@pytest.mark.parametrize(("option", "value", "marks"), [("--minutes", 20, 22), ("--marks", 30, 30)])
def test_homework_is_as_long_as_asked(tmp_path: Path, option: str, value: int, marks: int) -> None:
    """At 90 minutes for 100 marks (common practice) twenty minutes are about 22 marks; whole questions make it up."""
    assert run("homework", "--grade", 3, option, value, "--out", tmp_path) == 0
    paper = read_paper((tmp_path / "homework-grade-3-written-1.json").read_bytes())
    assert 0.8 * marks <= paper.total <= 1.4 * marks
    assert 0.8 * marks * 0.9 <= paper.time_minutes <= 1.4 * marks * 0.9


def test_a_lesson_from_a_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Paper, script, report, lesson: each made by its own command."""
    assert main(["paper", "--grade", "2", "--json-only", "--out", str(tmp_path)]) == 0
    paper, script = str(tmp_path / "grade-2-written-1.json"), str(tmp_path / "script.json")
    assert main(["script", paper, "--ability", "0", "--out", script]) == 0
    capsys.readouterr()
    assert main(["mark", paper, script, "--json"]) == 0
    (tmp_path / "report.json").write_text(capsys.readouterr().out, "utf-8")
    out = tmp_path / "out"
    assert run("lesson", "--grade", 2, "--weak", tmp_path / "report.json", "--out", out) == 0
    (document,) = out.glob("*.json")
    lesson = read_paper(document.read_bytes())
    assert [section.title for section in lesson.sections] == ["Warm-up", "Homework"]
    assert set(listing(out)) == {f"{lesson.id}.json", f"{lesson.id}.pdf", f"{lesson.id}-answers.pdf"}


def test_a_sheet_for_a_mixed_group(tmp_path: Path) -> None:
    assert run("group", "--grades", "3,1", "--topics", "values", "--out", tmp_path) == 0
    paper = read_paper((tmp_path / "group-values-grades-1-3-written-1.json").read_bytes())
    assert [section.title for section in paper.sections] == ["Grade 1", "Grade 3"]


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (["manuscript", "--clef", "piano", "--pages", 2, "--bars", 4], "manuscript-piano-7mm.pdf"),
        (["tracing", "--signs", "rests", "--grade", 3, "--words", "us"], "tracing-rests-grade-3.pdf"),
    ],
)
def test_paper_to_write_on(tmp_path: Path, arguments: list[object], name: str) -> None:
    assert run(*arguments, "--out", tmp_path / "out") == 0
    assert set(listing(tmp_path / "out")) == {name}


@pytest.mark.parametrize(
    "arguments",
    [
        ["drill", "--grade", 3, "--kinds", "name-the-note"],
        ["homework", "--grade", 3, "--topics", "notes"],
        ["group", "--grades", "1,2", "--kinds", "name-the-note"],
    ],
)
def test_note_names_are_the_readers(tmp_path: Path, arguments: list[object]) -> None:
    """In fixed do the answers say sol and la; the stored answers stay English, so that any copy marks the same."""
    assert run(*arguments, "--note-names", "fixed-do", "--out", tmp_path) == 0
    (document,) = tmp_path.glob("*.json")
    assert read_paper(document.read_bytes()).note_names == "fixed-do"
    (answers,) = tmp_path.glob("*-answers.pdf")
    said = words_of(answers.read_bytes()).lower()
    assert any(name in said for name in (" do", " re", " mi", " fa", " sol", " la", " si"))


def test_homework_in_two_versions_has_one_blueprint_and_other_notes(tmp_path: Path) -> None:
    assert run("homework", "--grade", 3, "--topics", "notes,keys", "--versions", 2, "--out", tmp_path) == 0
    a, b = (read_paper((tmp_path / f"homework-notes-keys-grade-3-written-1-{one}.json").read_bytes()) for one in "ab")
    assert [(one.kind, one.marks) for one in a.questions()] == [(one.kind, one.marks) for one in b.questions()]
    facts = [{(one.kind, bytes(one.facts)) for one in paper.questions()} for paper in (a, b)]
    assert not facts[0] & facts[1]


def test_names_stay_short_enough_to_be_read_back(tmp_path: Path) -> None:
    """The longest names, the largest seed, two versions: the document still keeps to its own bounds."""
    kinds = "with-and-without-signature,same-pitch-other-clef,accidental-in-force"
    asked = ["--kinds", kinds, "--seed", 2**53, "--versions", 2, "--edition", "on-screen", "--out", tmp_path]
    assert run("drill", "--grade", 3, "--count", 3, *asked) == 0
    assert run("group", "--grades", "3,4,5", "--count", 2, *asked) == 0
    found = list(tmp_path.glob("*.json"))
    assert len(found) == 4
    assert all(read_paper(one.read_bytes()).id == one.stem for one in found)


@pytest.mark.parametrize(
    "arguments",
    [
        ["drill", "--grade", 4, "--topics", "keys", "--versions", 2],
        ["homework", "--grade", 2, "--topics", "notes,values"],
        ["lesson", "--grade", 3, "--topic", "scales"],
        ["group", "--grades", "1,2", "--topics", "intervals"],
        ["manuscript", "--clef", "piano", "--bars", 4],
        ["tracing", "--grade", 5],
    ],
    ids=lambda arguments: arguments[0],
)
def test_the_same_words_give_the_same_bytes(tmp_path: Path, arguments: list[object]) -> None:
    for folder in ("one", "two"):
        assert run(*arguments, "--out", tmp_path / folder) == 0
    assert listing(tmp_path / "one") == listing(tmp_path / "two")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["drill", "--grade", 1], "name --kinds or --topics"),
        (["drill", "--grade", 1, "--topics", "nots"], "did you mean notes"),
        (["drill", "--grade", 1, "--kinds", "degree-name"], "from grade 4"),
        (["drill", "--grade", 1, "--topics", "notes", "--count", 2], "items, not 2"),
        (["drill", "--grade", 1, "--topics", "notes", "--stave", "9"], "'9' is not one of"),
        (["drill", "--grade", 6, "--topics", "notes"], "6 is not in the range"),
        (["drill", "--grade", 1, "--topics", "notes", "--versions", 5], "5 is not in the range"),
        (["homework", "--grade", 1, "--topics", "nots"], "did you mean notes"),
        (["homework", "--grade", 1, "--minutes", 20, "--marks", 20], "--minutes or --marks, not both"),
        (["homework", "--grade", 1, "--weak", "no-such.json"], "does not exist"),
        (["homwork", "--grade", 1], "Did you mean 'homework'"),
        (["lesson", "--grade", 3, "--topic", "keys", "--rule", "nope"], "there are signatures, melody"),
        (["lesson", "--grade", 3, "--weak", "no-such.json"], "does not exist"),
        (["group", "--grades", "3", "--topics", "keys"], "two grades or more"),
        (["group", "--grades", "1,9", "--topics", "keys"], "from 1 to 5"),
        (["group", "--grades", "1,2", "--topics", "transposition"], "before grade 5"),
        (["manuscript", "--clef", "soprano"], "'soprano' is not one of"),
        (["manuscript", "--lines", 30, "--stave", 14], "a page holds"),
        (["tracing", "--signs", "noses"], "clefs, rests or both"),
    ],
)
def test_what_is_refused_is_told_and_leaves_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[object], said: str
) -> None:
    out = tmp_path / "out"
    assert run(*arguments, "--out", out) == 2
    assert said in capsys.readouterr().err
    assert listing(tmp_path) == {}


def test_help_shows_examples(capsys: pytest.CaptureFixture[str]) -> None:
    for form in ("", "drill", "homework", "lesson", "group", "manuscript", "tracing"):
        words = [form, "--help"] if form else ["--help"]
        assert run(*words) == 0
        assert "stavewright sheet " in capsys.readouterr().out.split("Examples:")[1]
