"""Bad input at the command line: one readable message on the error stream, exit code 2, and nothing half-written."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from cli.test_files import listing
from services.test_documents import HOSTILE
from stavewright import wiring
from stavewright.cli.main import main

NOBODY = 65534


class QuickPrinter:
    """A printer that prints nothing, so that tests of files need not wait for pictures."""

    def paper_set(self, paper: Any, progress: Any) -> dict[str, bytes]:
        return {"paper": b"%PDF-", "model-answers": b"%PDF-", "mark-scheme": b"%PDF-"}

    def chair(self, paper: Any, chair: Any) -> bytes:
        return b"%PDF-"

    def script(self, paper: Any, script: Any) -> bytes:
        return b"%PDF-"

    def marked_script(self, paper: Any, script: Any, report: Any) -> bytes:
        return b"%PDF-"


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wiring, "melodies", lambda *_, **__: wiring.composed_melodies())
    monkeypatch.setattr(wiring, "engraver", lambda **_: QuickPrinter())


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a sound paper and a sound script for it, made by the commands themselves."""
    folder = tmp_path_factory.mktemp("papers")
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(wiring, "melodies", lambda *_, **__: wiring.composed_melodies())
        patched.setattr(wiring, "engraver", lambda **_: QuickPrinter())
        assert main(["paper", "--grade", "1", "--out", str(folder)]) == 0
        paper = str(folder / "grade-1-written-1.json")
        assert main(["script", paper, "--ability", "0", "--out", str(folder / "script.json")]) == 0
    return folder


@pytest.fixture
def refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    """Run a command that must be refused; its message. The folder it ran in must be as it was."""

    def run(*arguments: object) -> str:
        before = listing(tmp_path)
        capsys.readouterr()
        assert main([str(one) for one in arguments]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "Traceback" not in shown.err
        told = [line for line in shown.err.splitlines() if not line.startswith(("Usage:", "Try ")) and line]
        assert len(told) == 1
        assert told[0].startswith("Error: ")
        assert len(told[0]) < 2000
        assert listing(tmp_path) == before
        return told[0]

    return run


Refused = Callable[..., str]


# --- options ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("grade", ["0", "6", "-1", "three", "", "1e9"])
def test_an_unknown_grade(grade: str, refused: Refused, tmp_path: Path) -> None:
    assert "grade" in refused("paper", "--grade", grade, "--out", tmp_path / "out")
    assert "grade" in refused("questions", "--kind", "name-the-note", "--grade", grade)


@pytest.mark.parametrize("edition", ["oral", "", "Written ", "on_screen"])
def test_an_unknown_edition(edition: str, refused: Refused, tmp_path: Path) -> None:
    assert "written or on-screen" in refused("paper", "--grade", "1", "--edition", edition, "--out", tmp_path / "out")


def test_an_unknown_kind_is_told_which_was_meant(refused: Refused) -> None:
    said = refused("questions", "--kind", "name-the-nose", "--grade", "1")
    assert "name-the-nose" in said
    assert "did you mean name-the-note" in said
    for nonsense in ("", "../../etc/passwd", "__init__", "os", "name_the_note", "x" * 5000):
        assert "no question kind" in refused("questions", "--kind", nonsense, "--grade", "1")


def test_a_kind_below_its_first_grade(refused: Refused) -> None:
    assert "from grade 5" in refused("questions", "--kind", "name-the-cadence", "--grade", "1")


@pytest.mark.parametrize(
    ("option", "value"), [("--count", "0"), ("--count", "many"), ("--seed", "-1"), ("--seed", "1.5"), ("--words", "fr")]
)
def test_other_options_out_of_bounds(option: str, value: str, refused: Refused) -> None:
    assert option in refused("questions", "--kind", "name-the-note", "--grade", "1", option, value)


@pytest.mark.parametrize("option", ["--topics", "--kinds"])
def test_a_list_that_names_nothing_sets_no_whole_paper(option: str, refused: Refused, tmp_path: Path) -> None:
    for nothing in ("", " , "):
        assert "names nothing" in refused("paper", "--grade", "1", option, nothing, "--out", tmp_path / "out")


# --- documents --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_broken_script(data: bytes, made: Path, refused: Refused, tmp_path: Path) -> None:
    """Broken, hostile, out-of-range and empty answers: the message says that it is the script, and where."""
    (tmp_path / "bad.json").write_bytes(data)
    said = refused("mark", made / "grade-1-written-1.json", tmp_path / "bad.json", "--pdf", tmp_path / "marked.pdf")
    assert "script" in said


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_broken_paper(data: bytes, made: Path, refused: Refused, tmp_path: Path) -> None:
    (tmp_path / "bad.json").write_bytes(data)
    assert "paper" in refused("script", tmp_path / "bad.json", "--out", tmp_path / "script.json")
    assert "paper" in refused("mark", tmp_path / "bad.json", made / "script.json")


def test_the_message_names_the_file_and_what_was_given_in_its_place(
    made: Path, refused: Refused, tmp_path: Path
) -> None:
    """The paper twice, the two the wrong way round, and the PDF: each file is named with what it is."""
    paper, script = made / "grade-1-written-1.json", made / "script.json"
    assert f"{paper}: script: this is a paper" in refused("mark", paper, paper)
    assert f"{script}: paper: this is a script" in refused("mark", script, paper)
    assert "this is a PDF" in refused("mark", made / "grade-1-written-1-paper.pdf", script)
    assert f"{script}: report: this is a script" in refused("paper", "--grade", 1, "--weak", script, "--out", tmp_path)


def test_a_chair_that_cannot_be_written(made: Path, refused: Refused) -> None:
    """A folder that nobody can make, and a share that is no number."""
    paper = made / "grade-1-written-1.json"
    assert "cannot write into" in refused("chair", "set", paper, "--out", "/proc/chair")
    assert "nan is not a number" in refused("chair", "set", paper, "--share", "nan")


def test_another_script_of_the_same_name_is_not_written_over(made: Path, refused: Refused, tmp_path: Path) -> None:
    """A pupil may be marking it already: the same may be set again, another one needs another seed."""
    paper = made / "grade-1-written-1.json"
    first = ["chair", "set", str(paper), "--share", "0.5", "--out", str(tmp_path)]
    assert main(first) == 0
    assert main(first) == 0
    said = refused("chair", "set", paper, "--share", "0.9", "--out", tmp_path)
    assert "holds another script to be marked" in said


def test_the_same_script_twice_is_no_evidence(made: Path, refused: Refused) -> None:
    """Given twice by mistake, every wrong answer would count twice and a slip be named too soon."""
    pair = (made / "grade-1-written-1.json", made / "script.json")
    assert "given twice" in refused("diagnose", *pair, *pair)


def test_a_script_for_another_paper(made: Path, refused: Refused, tmp_path: Path) -> None:
    script = json.loads((made / "script.json").read_bytes())
    (tmp_path / "other.json").write_text(json.dumps({**script, "paper": "grade-5-written-9"}), "utf-8")
    said = refused("mark", made / "grade-1-written-1.json", tmp_path / "other.json", "--json")
    assert "'grade-5-written-9'" in said
    assert "'grade-1-written-1'" in said


def test_answers_that_do_not_fit_are_all_told(made: Path, refused: Refused, tmp_path: Path) -> None:
    """Questions that are not in the paper and answers of another form: every one is in the message."""
    first = next(iter(json.loads((made / "script.json").read_bytes())["answers"]))
    answers = {first: [{"pairs": [["a", "b"]]}], "q99": [{"words": "F"}]}
    (tmp_path / "bad.json").write_text(json.dumps({"paper": "grade-1-written-1", "answers": answers}), "utf-8")
    said = refused("mark", made / "grade-1-written-1.json", tmp_path / "bad.json")
    assert f"question {first}" in said
    assert "'q99'" in said


def _tampered(made: Path, change: Callable[[dict[str, Any]], None], to: Path) -> Path:
    """The sound paper with every question changed."""
    paper = json.loads((made / "grade-1-written-1.json").read_bytes())
    for section in paper["sections"]:
        for question in section["questions"]:
            change(question)
    to.write_text(json.dumps(paper), "utf-8")
    return to


def _no_facts(question: dict[str, Any]) -> None:
    question["facts"] = {}


def _foreign_facts(question: dict[str, Any]) -> None:
    question["facts"]["admin"] = True


def _unknown_kind(question: dict[str, Any]) -> None:
    question["kind"] = "name-the-nose"


def _one_id(question: dict[str, Any]) -> None:
    question["id"] = "q1"


def _follows_nothing(question: dict[str, Any]) -> None:
    question["follows"] = "q0"


def _marks(question: dict[str, Any]) -> None:
    question["marks"] = 10**9


@pytest.mark.parametrize("change", [_no_facts, _foreign_facts, _unknown_kind, _one_id, _follows_nothing, _marks])
def test_a_tampered_paper(
    change: Callable[[dict[str, Any]], None], made: Path, refused: Refused, tmp_path: Path
) -> None:
    """Facts that do not fit their kind, unknown kinds, ids twice: refused by name before anything is marked."""
    paper = _tampered(made, change, tmp_path / "bad.json")
    assert "paper" in refused("mark", paper, made / "script.json")
    assert "paper" in refused("script", paper, "--out", tmp_path / "script.json")


def test_a_file_that_is_not_there(made: Path, refused: Refused, tmp_path: Path) -> None:
    assert "cannot read" in refused("mark", tmp_path / "none.json", made / "script.json")
    assert "cannot read" in refused("script", tmp_path)


def test_blank_answers_are_no_fault(made: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A pupil may leave everything blank: that is 0 marks, not bad input."""
    (tmp_path / "blank.json").write_text('{"paper": "grade-1-written-1", "answers": {"q1a": [], "q1b": []}}', "utf-8")
    capsys.readouterr()
    assert main(["mark", str(made / "grade-1-written-1.json"), str(tmp_path / "blank.json"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["total"] == 0


XML_BOMB = b"""<?xml version="1.0"?><!DOCTYPE a [<!ENTITY x "aaaaaaaaaa"><!ENTITY y "&x;&x;&x;&x;&x;&x;&x;&x;&x;&x;">
<!ENTITY z SYSTEM "file:///etc/passwd">]><score-partwise>&y;&z;</score-partwise>"""
REAL_MELODIES = wiring.melodies


@pytest.mark.parametrize("files", [{}, {"a.musicxml": XML_BOMB, "b.mxl": b"PK\x03\x04junk", "c.xml": b""}])
def test_a_folder_of_music_that_holds_none(
    files: dict[str, bytes], capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Broken and hostile MusicXML: every file is named with the reason, and nothing is set on other music instead."""
    monkeypatch.setattr(wiring, "melodies", REAL_MELODIES)
    mine = tmp_path / "mine"
    mine.mkdir()
    for name, data in files.items():
        (mine / name).write_bytes(data)
    for command in (["paper", "--out", str(tmp_path / "out")], ["questions", "--kind", "key-of-a-melody"]):
        assert main([*command, "--grade", "1", "--tunes", str(mine)]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "Traceback" not in shown.err
        assert "no extract can be taken from the music in" in shown.err
        assert all(name in shown.err for name in files)
        assert "root:" not in shown.err
    assert not (tmp_path / "out").exists()


# --- places to write --------------------------------------------------------------------------------------------------


def test_a_file_in_the_place_of_the_folder(made: Path, refused: Refused, tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"mine")
    paper = made / "grade-1-written-1.json"
    assert "out" in refused("paper", "--grade", "1", "--out", tmp_path / "out")
    assert "cannot write" in refused("paper", "--grade", "1", "--out", tmp_path / "out" / "below")
    assert "cannot write" in refused("script", paper, "--out", tmp_path / "out" / "script.json")
    assert "cannot write" in refused("mark", paper, made / "script.json", "--pdf", tmp_path / "out" / "marked.pdf")


def test_a_folder_in_the_place_of_a_file(refused: Refused, tmp_path: Path) -> None:
    """The paper's JSON cannot be put in its place: none of its PDFs is left there either."""
    (tmp_path / "grade-1-written-1.json" / "inside").mkdir(parents=True)
    assert "cannot write" in refused("paper", "--grade", "1", "--out", tmp_path)


@pytest.fixture
def unwritable(tmp_path: Path) -> Iterator[Path]:
    """A folder that this user may not write to; root, who may write anywhere, becomes another user for the test."""
    folder = tmp_path / "locked"
    folder.mkdir()
    folder.chmod(0o555)
    root = os.geteuid() == 0
    if root:
        for above in (tmp_path, *tmp_path.parents):
            if above.stat().st_mode & 0o001 == 0:
                above.chmod(above.stat().st_mode | 0o011)
        os.seteuid(NOBODY)
    try:
        yield folder
    finally:
        if root:
            os.seteuid(0)
        folder.chmod(0o755)


def test_a_folder_without_leave_to_write(
    made: Path, unwritable: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """The folder may be read but not written: the message says so, and it stays empty."""
    for arguments in (
        ["paper", "--grade", "1", "--out", str(unwritable)],
        ["paper", "--grade", "1", "--out", str(unwritable / "new")],
        ["questions", "--kind", "name-the-nose", "--grade", "1"],
    ):
        assert main(arguments) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "Permission denied" in shown.err or "no question kind" in shown.err
        assert list(unwritable.iterdir()) == []


# --- the program as it is started -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["questions", "--kind", "name-the-nose", "--grade", "1"], "did you mean name-the-note"),
        (["mark", "-", "-"], "paper"),
        (["paper", "--grade", "9"], "grade"),
    ],
)
def test_the_program_itself_ends_with_two(arguments: list[str], told: str, tmp_path: Path) -> None:
    """Started as a user starts it: no traceback, exit code 2, nothing on standard output, nothing written."""
    ran = subprocess.run(
        [sys.executable, "-m", "stavewright.cli.main", *arguments],
        input=b"[" * 1000,
        capture_output=True,
        cwd=tmp_path,
        timeout=60,
        check=False,
    )
    assert ran.returncode == 2
    assert ran.stdout == b""
    assert told in ran.stderr.decode()
    assert b"Traceback" not in ran.stderr
    assert list(tmp_path.iterdir()) == []
