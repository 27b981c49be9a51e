"""`stavewright notes`: what is written, what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.test_files import listing
from stavewright import wiring
from stavewright.cli.main import main


@pytest.fixture(autouse=True)
def _composed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wiring, "melodies", lambda *_, **__: wiring.composed_melodies())


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (["--grade", "3", "--topic", "intervals"], "notes-grade-3-intervals.pdf"),
        (["--grade", "5", "--new", "--short", "--topic", "keys,chords"], "notes-grade-5-keys-chords-new-short.pdf"),
    ],
)
def test_a_booklet_is_written(tmp_path: Path, arguments: list[str], name: str) -> None:
    assert main(["notes", *arguments, "--out", str(tmp_path / "new")]) == 0
    assert set(listing(tmp_path / "new")) == {name}


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--grade", "3", "--topic", "scals"], "the topics are"),
        (["--grade", "3", "--topic", "transposition"], "before grade 5"),
        (["--grade", "2", "--topic", "intervals", "--new"], "adds nothing"),
        (["--grade", "0"], "0 is not in the range"),
        ([], "Missing option '--grade'"),
    ],
)
def test_what_is_refused_is_told_and_leaves_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    assert main(["notes", *arguments, "--out", str(tmp_path / "out")]) == 2
    assert said in capsys.readouterr().err
    assert listing(tmp_path) == {}


def test_help_shows_examples(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["notes", "--help"]) == 0
    assert "stavewright notes --grade 3" in capsys.readouterr().out
