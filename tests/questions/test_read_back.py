"""How pupils write answers, and how they are read: a list made by hand."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from stavewright.questions.read_back import SKILLS, read_as

LISTS = tomllib.loads((Path(__file__).parent / "typed_answers.toml").read_text("utf-8"))["list"]
ROWS = [(one["skill"], one.get("names", "english"), *row) for one in LISTS for row in one["rows"]]
REFUSED = [(one["skill"], one.get("names", "english"), text) for one in LISTS for text in one["refused"]]


@pytest.mark.parametrize(("skill", "names", "typed", "meant"), ROWS)
def test_what_pupils_write_is_read(skill: str, names: str, typed: str, meant: str) -> None:
    """The words mean what the list says."""
    assert read_as(skill, typed, names) == meant


@pytest.mark.parametrize(("skill", "names", "typed"), REFUSED)
def test_what_is_no_answer_is_refused(skill: str, names: str, typed: str) -> None:
    """Words that are no answer of the skill, or of another vocabulary, are not read."""
    assert read_as(skill, typed, names) is None


def test_the_list_is_long_and_of_every_skill() -> None:
    """Three hundred answers at least, of every skill and vocabulary, none twice."""
    assert len(ROWS) + len(REFUSED) >= 300
    assert {one["skill"] for one in LISTS} == set(SKILLS)
    assert {one.get("names", "english") for one in LISTS} == {"english", "german", "fixed-do"}
    assert len({row[:3] for row in ROWS} | set(REFUSED)) == len(ROWS) + len(REFUSED)
