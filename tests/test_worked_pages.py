"""docs/working-a-question.md: every command prints what the page shows."""

from __future__ import annotations

import sys
from pathlib import Path

SCRIPTS = Path(__file__).parent.parent / "scripts"


def test_the_page_shows_what_the_commands_print() -> None:
    """The page is up to date (else: run scripts/write_worked_pages.py)."""
    sys.path.insert(0, str(SCRIPTS))
    from write_worked_pages import PAGE, page  # type: ignore[import-not-found]

    assert PAGE.read_text("utf-8") == page()
    assert page().count("$ stavewright work") >= 12
