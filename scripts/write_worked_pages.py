"""Write what the commands of docs/working-a-question.md print below them (a test holds the page up to date)."""

from __future__ import annotations

import contextlib
import io
import re
import shlex
from pathlib import Path

from stavewright.cli.main import main

PAGE = Path(__file__).parent.parent / "docs" / "working-a-question.md"
_BLOCK = re.compile(r"```console\n\$ stavewright ([^\n]*)\n(.*?)```", re.DOTALL)


def printed(line: str) -> str:
    """What a command prints, to the terminal or as an error."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        main(shlex.split(line))
    return (out.getvalue() + err.getvalue()).rstrip() + "\n"


def page() -> str:
    """The page with every command's output."""
    return _BLOCK.sub(
        lambda found: f"```console\n$ stavewright {found[1]}\n{printed(found[1])}```", PAGE.read_text("utf-8")
    )


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
