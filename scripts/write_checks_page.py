"""Write docs/checks.md from the tables of docs/checks/ (a test holds it up to date)."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent
TABLES = ROOT / "docs" / "checks"
PAGE = ROOT / "docs" / "checks.md"
NONE = "none"

HEAD = """# Checks from outside

Which of our answers are held against something that we did not write: a library that works the answer out by itself,
or a published table. A library that only reads our own answer back is no check and is not counted here.

Written from the tables in `docs/checks/` by `scripts/write_checks_page.py`. `cases` is how many questions or rows were
compared in one run of the test; `differences` how many of them came out otherwise, with the reason.
"""


def rows() -> list[dict[str, Any]]:
    """Every row of every table, each with the topic it belongs to."""
    found = []
    for path in sorted(TABLES.glob("*.toml")):
        found += tomllib.loads(path.read_text("utf-8"))["row"]
    return found


def checked(every: list[dict[str, Any]]) -> list[str]:
    """The kinds that something from outside checks."""
    return sorted({row["kind"] for row in every if row["source"] != NONE})


def _line(row: dict[str, Any]) -> str:
    test = f"`{row['test'].removeprefix('tests/')}`" if row["source"] != NONE else ""
    cases = f"{row['cases']:,}" if row["source"] != NONE else ""
    apart = row.get("differences", 0) if row["source"] != NONE else ""
    return f"| {row['kind']} | {row['source']} | {test} | {cases} | {apart} | {row.get('reason', '')} |"


def page() -> str:
    """The whole page."""
    every = rows()
    kinds = {row["kind"] for row in every}
    lines = [
        HEAD,
        f"{len(checked(every))} of {len(kinds)} kinds are checked by something from outside.",
        "",
        "| kind | held against | test (under `tests/`) | cases | differences | reason |",
        "|---|---|---|---|---|---|",
        *(_line(row) for row in sorted(every, key=lambda row: (row["kind"], row["source"]))),
        "",
    ]
    return "\n".join(lines)


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
