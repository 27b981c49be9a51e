"""Editions compared: forms, reasons, kinds retired."""

from __future__ import annotations

import json

from click.testing import CliRunner

from stavewright.cli.main import cli
from stavewright.papers.blueprint import usable_recipes
from stavewright.questions.catalogue import kinds
from stavewright.services.compare_editions import compare
from stavewright.syllabus.edition import EDITIONS


def test_every_kind_is_asked_or_has_a_reason() -> None:
    """In each edition a kind has a form, or a reason why it is not asked."""
    rows = compare(5)
    assert {row.id for row in rows} == set(kinds())
    for row in rows:
        for edition in EDITIONS:
            assert (edition in row.forms) != bool(row.reasons.get(edition))


def test_a_retired_kind_is_not_set(monkeypatch) -> None:
    """A kind retired from an edition is not set in it, and the comparison says why."""
    from stavewright.papers import blueprint
    from stavewright.services import compare_editions

    def gone(edition: str) -> dict[str, str]:
        return {"which-clef": "no longer asked"} if edition == "written" else {}

    monkeypatch.setattr(blueprint, "retired", gone)
    monkeypatch.setattr(compare_editions, "retired", gone)
    assert "which-clef" not in usable_recipes(3, "written")
    assert "which-clef" in usable_recipes(3, "on-screen")
    row = next(one for one in compare(3) if one.id == "which-clef")
    assert row.reasons == {"written": "no longer asked"}


def test_the_command_prints_both_editions() -> None:
    """`stavewright editions` names both editions and what differs, also as JSON."""
    shown = CliRunner().invoke(cli, ["editions", "--grade", "3"])
    assert "written: pen and paper" in shown.output
    assert "on-screen: on a screen" in shown.output
    document = json.loads(CliRunner().invoke(cli, ["editions", "--grade", "3", "--json"]).output)
    assert {one["id"] for one in document["editions"]} == set(EDITIONS)
