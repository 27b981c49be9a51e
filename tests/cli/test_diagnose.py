"""`stavewright diagnose` names a steady slip, asks where it is not sure, and refuses what does not belong."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from click.testing import CliRunner

from stavewright.cli.diagnose import diagnose
from stavewright.marking.diagnosis import Diagnosis
from stavewright.papers.documents import Paper, Script, Section
from stavewright.questions.asking import full
from stavewright.services.documents import as_json, read_paper
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies

GAP = "counted the gap"


def _paper(count: int) -> Paper:
    made = set_questions(
        kind="degree-number", grade=3, edition="written", count=count, seed=40, melodies=composed_melodies()
    )
    questions = tuple(full(one) for one in made)
    total = sum(one.marks for one in questions)
    return Paper(
        id="degrees", grade=3, edition="written", seed=40, words="uk", total=total, time_minutes=9,
        sections=(Section("scales", "Degrees", questions),),
    )  # fmt: skip


def _script(paper: Paper, name: str) -> Script:
    """A pupil who always falls into one slip where it can be fallen into, and is right elsewhere."""
    answers = {}
    for question in paper.questions():
        wrong = [slip.value for slip in question.slips if slip.name == name]
        answers[question.id] = wrong[0] if wrong else question.answers[0].value
    return Script("degrees", answers)


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    paper = _paper(6)
    for name, document in (("paper", paper), ("script", _script(paper, GAP))):
        (tmp_path / f"{name}.json").write_bytes(as_json(document))
    return tmp_path / "paper.json", tmp_path / "script.json"


def test_a_steady_slip_is_named_with_what_to_do(files: tuple[Path, Path]) -> None:
    got = CliRunner().invoke(diagnose, [str(one) for one in files])
    assert got.exit_code == 0, got.output
    assert GAP in got.output.splitlines()[0]
    assert "% likely" in got.output
    assert "look again on another day" in got.output


def test_the_document_says_the_same(files: tuple[Path, Path]) -> None:
    got = CliRunner().invoke(diagnose, [*map(str, files), "--json"])
    (line,) = got.output.splitlines()
    found = msgspec.json.decode(line, type=Diagnosis)
    assert (found.kind, found.slip) == ("degree-number", GAP)
    assert found.suspects[0].likely >= 0.9
    assert found.remedy
    assert found.ask_next is None


def test_one_wrong_answer_gets_a_question_that_would_tell(tmp_path: Path) -> None:
    paper = _paper(1)
    (tmp_path / "paper.json").write_bytes(as_json(paper))
    (tmp_path / "script.json").write_bytes(as_json(_script(paper, GAP)))
    args = [str(tmp_path / "paper.json"), str(tmp_path / "script.json"), "--follow-up", str(tmp_path / "next.json")]
    got = CliRunner().invoke(diagnose, args)
    assert got.exit_code == 0, got.output
    assert "not sure yet" in got.output
    small = read_paper((tmp_path / "next.json").read_bytes())
    (question,) = small.questions()
    assert question.kind == "degree-number"
    assert GAP in {slip.name for slip in question.slips}


def test_an_odd_number_of_files_is_refused(files: tuple[Path, Path]) -> None:
    got = CliRunner().invoke(diagnose, [str(files[0])])
    assert got.exit_code == 2
    assert "pairs" in got.output


def test_nothing_wrong_is_said_so(tmp_path: Path) -> None:
    paper = _paper(3)
    (tmp_path / "paper.json").write_bytes(as_json(paper))
    (tmp_path / "script.json").write_bytes(as_json(_script(paper, "no slip at all")))
    got = CliRunner().invoke(diagnose, [str(tmp_path / "paper.json"), str(tmp_path / "script.json")])
    assert got.output == "No wrong answers: there is nothing to look for.\n"
