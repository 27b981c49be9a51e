"""What the docs say is what the program does: schemas, commands, links, sizes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from stavewright.services.schemas import schemas

ROOT = Path(__file__).parent.parent
DOCS = ROOT / "docs"


@pytest.mark.parametrize("name", schemas())
def test_schemas_are_what_the_types_say(name: str) -> None:
    """docs/schema holds just what the document types give (else: run scripts/write_schemas.py)."""
    assert json.loads((DOCS / "schema" / f"{name}.json").read_text("utf-8")) == schemas()[name]


def test_no_schema_is_left_over() -> None:
    """Every file of docs/schema belongs to a document."""
    assert {file.stem for file in (DOCS / "schema").glob("*.json")} == set(schemas())


def test_the_page_of_commands_is_what_help_says() -> None:
    """docs/cli.md is written from the commands' own help (else: run scripts/write_cli_page.py).

    In a process of its own: click keeps the help option of a command as it was when it was first run, and other tests
    run commands alone.
    """
    asked = "import sys; from write_cli_page import page; sys.stdout.buffer.write(page().encode())"
    made = subprocess.run([sys.executable, "-c", asked], cwd=ROOT / "scripts", capture_output=True, check=True)
    assert (DOCS / "cli.md").read_text("utf-8") == made.stdout.decode()


@pytest.mark.parametrize("page", sorted(DOCS.rglob("*.md")) + sorted(ROOT.glob("*.md")), ids=lambda page: page.name)
def test_links_lead_somewhere(page: Path) -> None:
    """Every relative link of every page leads to a file that is there."""
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", page.read_text("utf-8")):
        if "://" not in target:
            assert (page.parent / target).exists(), target


def test_modules_stay_small() -> None:
    """No module grows past 350 lines (the soft limit is 300)."""
    long = {
        file.name: count
        for file in (ROOT / "src").rglob("*.py")
        if (count := len(file.read_text("utf-8").splitlines())) > 350
    }
    assert long == {}


def test_no_module_has_a_name_that_says_nothing() -> None:
    """Modules are named by the trade."""
    empty = {"utils", "util", "helpers", "helper", "common", "manager", "base", "process", "misc"}
    assert [file for file in (ROOT / "src").rglob("*.py") if file.stem in empty] == []
