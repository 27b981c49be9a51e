"""`stavewright mark` on composed answers: the report line by line, the teacher's decisions, and refusals."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from papers.small_papers import paper_of, posed
from stavewright.cli.main import main
from stavewright.questions.kinds.answer_the_rhythm import AnswerTheRhythm
from stavewright.questions.values import WrittenValue
from stavewright.services.documents import as_json

Shown = pytest.CaptureFixture[str]
MINIM, CROTCHET = WrittenValue("minim"), WrittenValue("crotchet")


@pytest.fixture
def files(tmp_path: Path) -> list[str]:
    """A paper of one rhythm to answer, and a script whose second bar is a crotchet short (5 of 6, worked by hand)."""
    paper = paper_of([posed("answer-the-rhythm", AnswerTheRhythm("3/4", ((MINIM, CROTCHET), (CROTCHET, MINIM))))])
    rhythm = [{"type": "minim"}, {"type": "crotchet"}, {"type": "minim"}]
    script = {"paper": paper.id, "answers": {"q1": [{"rhythm": rhythm}]}}
    (tmp_path / "paper.json").write_bytes(as_json(paper))
    (tmp_path / "script.json").write_text(json.dumps(script), "utf-8")
    return [str(tmp_path / "paper.json"), str(tmp_path / "script.json")]


def decided(files: list[str], decisions: object) -> list[str]:
    path = Path(files[0]).parent / "decisions.json"
    path.write_text(json.dumps(decisions), "utf-8")
    return [*files, "--decisions", str(path)]


def shown(capsys: Shown) -> str:
    return " ".join(capsys.readouterr().out.split())


def test_the_report_is_shown_line_by_line(files: list[str], capsys: Shown) -> None:
    """A person reads every criterion, its marks and why, and that the marks are only proposed."""
    assert main(["mark", *files]) == 0
    said = shown(capsys)
    assert "q1 5/6, to be confirmed by the teacher:" in said
    assert "bars 1/2: bar 2 does not add up." in said
    assert "ending 1/1: it ends on a long note." in said
    assert "--propose and --decisions change them" in said


def test_decisions_change_the_marks_and_say_so(files: list[str], capsys: Shown) -> None:
    """The teacher's marks count; what the program gave stays in sight."""
    arguments = decided(files, {"q1": {"bars": {"marks": 2, "note": "rest understood"}}})
    assert main(["mark", *arguments]) == 0
    said = shown(capsys)
    assert "Paper small: 6 of 6" in said
    assert "q1 6/6, decided by the teacher:" in said
    assert "bars 2/2 (the program gave 1): bar 2 does not add up. Teacher: rest understood" in said
    assert "change them" not in said
    assert main(["mark", *arguments, "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert (report["total"], report["to_confirm"]) == (6, [])


def test_proposals_are_written_to_be_changed_and_given_back(files: list[str], tmp_path: Path, capsys: Shown) -> None:
    """The file that is written confirms everything as it stands; what is changed in it counts."""
    path = tmp_path / "decisions.json"
    assert main(["mark", *files, "--propose", str(path)]) == 0
    found = json.loads(path.read_bytes())
    assert found["q1"]["bars"] == {"marks": 1, "note": ""}
    capsys.readouterr()
    assert main(["mark", *files, "--decisions", str(path)]) == 0
    assert "q1 5/6, decided by the teacher" in shown(capsys)
    found["q1"]["bars"]["marks"] = 0
    path.write_text(json.dumps(found), "utf-8")
    assert main(["mark", *files, "--decisions", str(path)]) == 0
    assert "q1 4/6, decided by the teacher" in shown(capsys)


@pytest.mark.parametrize(
    ("decisions", "why"),
    [
        ({"q7": {}}, "question 'q7' is not in the script"),
        ({"q1": {"rhyme": {"marks": 1}}}, "no criterion 'rhyme'; its criteria are bars, length"),
        ({"q1": {"bars": {"marks": 3}}}, "3 marks, where there are 2 at most"),
        ({"q1": {"bars": 2}}, "decisions: Expected `object`, got `int`"),
        ([], "decisions: Expected `object`, got `array`"),
    ],
)
def test_decisions_that_do_not_fit_are_refused(files: list[str], decisions: object, why: str, capsys: Shown) -> None:
    """Nothing is marked by halves: the message says what would fit."""
    assert main(["mark", *decided(files, decisions)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert why in told.err
