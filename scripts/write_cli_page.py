"""Write docs/cli.md from the commands' own help (a test holds it up to date)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from stavewright.cli.main import cli

# As the program itself sets its contexts, so that the page does not depend on what ran before in the process.
LOOK: dict[str, Any] = {"max_content_width": 100, "terminal_width": 100, "help_option_names": ["-h", "--help"]}
PAGE = Path(__file__).parent.parent / "docs" / "cli.md"


def page() -> str:
    """The whole page."""
    parts = ["# Commands", "", "Written from the commands' own `--help` by `scripts/write_cli_page.py`.", ""]
    top = click.Context(cli, info_name="stavewright", **LOOK)
    parts += ["```text", cli.get_help(top).rstrip(), "```", ""]
    for name in cli.list_commands(top):
        command = cli.get_command(top, name)
        if command is not None:
            parts += _command(command, top, name, "##")
    return "\n".join(parts)


def _command(command: click.Command, parent: click.Context, name: str, level: str) -> list[str]:
    context = click.Context(command, info_name=name, parent=parent, **LOOK)
    found = [f"{level} {context.command_path}", "", "```text", command.get_help(context).rstrip(), "```", ""]
    if isinstance(command, click.Group):
        for below in command.list_commands(context):
            one = command.get_command(context, below)
            if one is not None:
                found += _command(one, context, below, level + "#")
    return found


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
