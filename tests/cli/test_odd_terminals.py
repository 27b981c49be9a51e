"""What a person meets on a narrow screen, with files from another system, or with a word too few."""

from __future__ import annotations

import codecs
import json
import subprocess
import sys
from pathlib import Path

import pytest

from papers.small_papers import drawn, paper_of, posed
from stavewright.cli.main import main
from stavewright.services.documents import as_json

Shown = pytest.CaptureFixture[str]


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    """A paper of one question and a script that leaves it blank."""
    paper = paper_of([posed("name-the-note", drawn("name-the-note", grade=3))])
    (tmp_path / "paper.json").write_bytes(as_json(paper))
    (tmp_path / "script.json").write_text(json.dumps({"paper": paper.id, "answers": {}}), "utf-8")
    return tmp_path / "paper.json", tmp_path / "script.json"


@pytest.mark.parametrize("columns", ["20", "40"])
def test_a_narrow_screen_loses_no_word(
    columns: str, files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, capsys: Shown
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    assert main(["mark", *map(str, files)]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "q1 0/1: Nothing written" in shown
    assert "…" not in shown


def test_files_as_other_systems_write_them(files: tuple[Path, Path], capsys: Shown) -> None:
    """A byte order mark and lines ended by carriage return and line feed are read like any other file."""
    assert main(["mark", *map(str, files), "--json"]) == 0
    plain = capsys.readouterr().out
    for one in files:
        one.write_bytes(codecs.BOM_UTF8 + one.read_bytes().replace(b"\n", b"\r\n"))
    assert main(["mark", *map(str, files), "--json"]) == 0
    assert capsys.readouterr().out == plain


def test_a_paper_whose_marks_do_not_add_up_is_refused(files: tuple[Path, Path], capsys: Shown) -> None:
    paper = json.loads(files[0].read_bytes())
    paper["sections"][0]["questions"][0]["marks"] = 50
    files[0].write_text(json.dumps(paper), "utf-8")
    assert main(["mark", *map(str, files)]) == 2
    assert "the total is 1, but the marks of the questions add up to 50" in capsys.readouterr().err


def test_a_paper_without_its_grade_is_told_the_option(capsys: Shown) -> None:
    assert main(["paper"]) == 2
    assert "Missing option '--grade'" in capsys.readouterr().err


def test_an_ability_that_is_no_number(files: tuple[Path, Path], capsys: Shown) -> None:
    assert main(["script", str(files[0]), "--ability", "nan"]) == 2
    assert "nan is not a number" in capsys.readouterr().err


def test_a_full_disk_is_said_in_one_line(files: tuple[Path, Path]) -> None:
    """Where standard output takes nothing more, there is a message and no traceback."""
    with Path("/dev/full").open("wb") as full:
        ended = subprocess.run(
            [sys.executable, "-m", "stavewright.cli.main", "mark", *map(str, files), "--json"],
            stdout=full, stderr=subprocess.PIPE, check=False,
        )  # fmt: skip
    assert ended.returncode == 2
    assert b"Traceback" not in ended.stderr
    assert b"No space left on device" in ended.stderr


def test_a_narrow_screen_loses_no_topic(
    files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, capsys: Shown
) -> None:
    """A long topic is written out on a screen of 20 letters."""
    paper = json.loads(files[0].read_bytes())
    paper["sections"][0]["questions"][0]["topic"] = "transposition"
    files[0].write_text(json.dumps(paper), "utf-8")
    monkeypatch.setenv("COLUMNS", "20")
    assert main(["mark", *map(str, files)]) == 0
    assert "transposition: 0/1" in capsys.readouterr().out
