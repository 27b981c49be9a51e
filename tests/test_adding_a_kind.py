"""The page on adding a kind is true: its example, saved as one new file, keeps every promise."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from stavewright.cli.main import cli
from stavewright.questions import catalogue
from stavewright.questions import kinds as kinds_package
from stavewright.services.verify import verify_case
from stavewright.syllabus.edition import EDITIONS
from stavewright.wiring import composed_melodies

PAGE = Path(__file__).parent.parent / "docs" / "adding-a-kind.md"


@pytest.fixture
def new_kind(tmp_path: Path) -> Iterator[Path]:
    """The example of the page as a file in the folder of kinds (a second folder, so that ours stays clean)."""
    found = re.search(r"```python\n(.*?)```", PAGE.read_text("utf-8"), re.DOTALL)
    assert found
    file = tmp_path / "line_or_space.py"
    file.write_text(found.group(1), "utf-8")
    kinds_package.__path__.append(str(tmp_path))
    catalogue.kinds.cache_clear()
    catalogue.kind.cache_clear()
    yield file
    kinds_package.__path__.remove(str(tmp_path))
    sys.modules.pop("stavewright.questions.kinds.line_or_space", None)
    catalogue.kinds.cache_clear()
    catalogue.kind.cache_clear()


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("grade", [1, 5])
def test_the_example_keeps_every_promise(new_kind: Path, grade: int, edition: str) -> None:
    """One new file is a whole new kind: it is found, set, solved, marked and kept secret."""
    assert new_kind.exists()
    assert "line-or-space" in catalogue.kinds()
    found = verify_case("line-or-space", grade, edition, seed=0, count=30, melodies=composed_melodies())
    assert found.problems == ()


def test_the_commands_know_the_new_kind(new_kind: Path) -> None:
    """The commands of the page run with nothing else changed."""
    assert new_kind.exists()
    listed = CliRunner().invoke(cli, ["kinds", "--topic", "notes"])
    assert "line-or-space" in listed.output
    made = CliRunner().invoke(cli, ["questions", "--kind", "line-or-space", "--grade", "1", "--count", "3"])
    assert made.exit_code == 0
    assert len(made.output.splitlines()) == 3
