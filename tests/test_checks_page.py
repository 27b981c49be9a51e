"""docs/checks.md says truly what is held against something from outside."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from stavewright.questions.catalogue import kind, kinds

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "scripts"))

from write_checks_page import NONE, PAGE, TABLES, checked, page, rows  # type: ignore[import-not-found] # noqa: E402

ROWS = [pytest.param(row, id=f"{row['kind']}-{row['source'][:20]}") for row in rows()]


@cache
def _tests_of(path: str) -> frozenset[str]:
    tree = ast.parse((ROOT / path).read_text("utf-8"))
    return frozenset(one.name for one in tree.body if isinstance(one, ast.FunctionDef) and one.name.startswith("test_"))


@pytest.mark.parametrize("row", ROWS)
def test_a_row_names_a_kind_and_a_test_that_exist(row: dict[str, Any]) -> None:
    """A row says what was compared with what, where, and how often; one without a check says why."""
    assert row["kind"] in kinds()
    if row["source"] == NONE:
        assert len(row["reason"]) > 20
        return
    path, _, rest = row["test"].partition("::")
    assert re.sub(r"\[.*\]$", "", rest) in _tests_of(path)
    assert row["cases"] > 0
    assert row["differences"] == 0 or len(row["reason"]) > 20


@pytest.mark.parametrize("path", sorted(TABLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_kind_of_a_topic_has_a_row(path: Path) -> None:
    """A table names its topics, and holds a row for every kind of them and of no other."""
    table = tomllib.loads(path.read_text("utf-8"))
    wanted = {one for one in kinds() if kind(one).topic in table["topics"]}
    assert {row["kind"] for row in table["row"]} == wanted


def test_every_kind_has_a_row_and_most_are_checked() -> None:
    """No kind is left out of the page, and at least sixty are held against something that we did not write."""
    assert {row["kind"] for row in rows()} == set(kinds())
    assert len(checked(rows())) >= 60


def test_a_kind_without_a_check_has_no_other_row() -> None:
    """A kind is either checked or not."""
    assert not {row["kind"] for row in rows() if row["source"] == NONE} & set(checked(rows()))


def test_the_page_is_up_to_date() -> None:
    """docs/checks.md is written from the tables (else: run scripts/write_checks_page.py)."""
    assert PAGE.read_text("utf-8") == page()
