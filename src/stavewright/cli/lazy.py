"""A command group that knows its commands by name and imports one only when it is called."""

from __future__ import annotations

from difflib import get_close_matches
from importlib import import_module
from typing import TYPE_CHECKING, Any, NamedTuple

import click

if TYPE_CHECKING:
    from collections.abc import Mapping


class Entry(NamedTuple):
    """Where a command lives (``module:name``) and the line that describes it in ``--help``."""

    place: str
    help: str


class LazyGroup(click.Group):
    """A group of commands whose ``--help`` imports none of them.

    >>> from click.testing import CliRunner
    >>> group = LazyGroup(name="demo", entries={"mark": Entry("no.such.module:mark", "Mark a script.")})
    >>> print(CliRunner().invoke(group, ["--help"]).output.splitlines()[-1].strip())
    mark  Mark a script.
    """

    def __init__(self, *args: Any, entries: Mapping[str, Entry], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.entries = dict(entries)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name the commands in the order of the table, which is the order a teacher meets them."""
        return list(self.entries)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command of this name, or answer None when there is none."""
        entry = self.entries.get(cmd_name)
        if entry is None:
            return None
        module, _, name = entry.place.partition(":")
        command = getattr(import_module(module), name)
        if not isinstance(command, click.Command):
            raise TypeError(f"{entry.place} is {command!r}, not a command")
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command asked for; for a name nearly right, say which was probably meant."""
        if args and args[0] not in self.entries and not args[0].startswith("-"):
            close = get_close_matches(args[0], self.entries, n=1)
            hint = f" Did you mean '{close[0]}'?" if close else f" The commands are: {', '.join(self.entries)}."
            raise click.UsageError(f"No such command '{args[0]}'.{hint}", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the table of commands without importing any."""
        if self.entries:
            with formatter.section("Commands"):
                formatter.write_dl([(name, entry.help) for name, entry in self.entries.items()])
