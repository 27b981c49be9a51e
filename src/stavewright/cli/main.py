"""The command ``stavewright``: its table of commands, and the one place that shows an error to a person."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Final

import click

from stavewright import __version__
from stavewright.cli.lazy import Entry, LazyGroup

if TYPE_CHECKING:
    from collections.abc import Sequence

BAD_INPUT: Final = 2
"""The exit code for an unknown command or option, and for any input that is refused."""

COMMANDS: Final[dict[str, Entry]] = {}
"""Every command: its name, ``module:attribute`` where it lives, and its line in ``--help``."""

EXAMPLES: Final = """\
\b
Examples:
  stavewright --help
"""


@click.command(
    name="stavewright",
    cls=LazyGroup,
    entries=COMMANDS,
    epilog=EXAMPLES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="stavewright")
def cli() -> None:
    """Set, work and mark graded music-theory papers.

    Every answer is worked afresh from the notes, so a paper comes with its model answers, the working,
    every other answer that is right, and the slip behind each likely wrong one.
    """


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and answer with the exit code; ``StavewrightError`` becomes one readable message.

    >>> main(["--version"])
    stavewright, version 0.1.0
    0
    """
    try:
        answer = cli.main(
            args=None if arguments is None else list(arguments), prog_name="stavewright", standalone_mode=False
        )
    except click.exceptions.Exit as leaving:
        return leaving.exit_code
    except click.ClickException as refused:
        refused.show()
        return refused.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        return 130
    except ValueError as fault:
        from stavewright.theory.errors import StavewrightError

        if not isinstance(fault, StavewrightError):
            raise
        click.echo(f"Error: {fault}", err=True)
        return BAD_INPUT
    except BrokenPipeError:
        # The reader (head, less) has gone: point standard output away so that closing it is quiet too.
        sys.stdout = None
        return 0
    return answer if isinstance(answer, int) else 0


if __name__ == "__main__":
    sys.exit(main())
