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

COMMANDS: Final[dict[str, Entry]] = {
    "start": Entry("stavewright.cli.start:start", "Set, answer and mark one paper, and print all of it."),
    "paper": Entry("stavewright.cli.paper:paper", "Set a fresh paper with model answers and mark scheme."),
    "sheet": Entry("stavewright.cli.sheet:sheet", "Print sheets for lessons: drills, homework and more."),
    "notes": Entry("stavewright.cli.notes:notes", "Print a grade's notes: rules, examples, slips, self-test."),
    "script": Entry("stavewright.cli.script:script", "Fill in an invented pupil's script for a paper."),
    "mark": Entry("stavewright.cli.mark:mark", "Mark a script, with reasons."),
    "chair": Entry("stavewright.cli.chair:chair", "Let a pupil mark an invented script, and judge the marking."),
    "diagnose": Entry("stavewright.cli.diagnose:diagnose", "Name the slip behind a pupil's wrong answers."),
    "work": Entry("stavewright.cli.work:work", "Work a question of your own, step by step."),
    "questions": Entry("stavewright.cli.questions:questions", "Set single questions of one kind as JSON."),
    "kinds": Entry("stavewright.cli.kinds:kinds", "List the question kinds."),
    "editions": Entry("stavewright.cli.editions:editions", "What each edition asks, and what differs."),
    "tunes": Entry("stavewright.cli.tunes:tunes", "Find real melodies to set questions on."),
    "verify": Entry("stavewright.cli.verify:verify", "Hold every kind of question to its promises."),
}
"""Every command: its name, ``module:attribute`` where it lives, and its line in ``--help``."""

EXAMPLES: Final = """\
\b
Examples:
  stavewright paper --grade 3 --seed 7 --out papers
  stavewright script papers/grade-3-written-7.json --ability 1 --out script.json
  stavewright mark papers/grade-3-written-7.json script.json
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
    except OSError as fault:
        # Standard output cannot take what is written to it (a full disk); files of our own are refused by name.
        click.echo(f"Error: {fault.strerror or fault}", err=True)
        sys.stdout = None
        return BAD_INPUT
    return answer if isinstance(answer, int) else 0


if __name__ == "__main__":
    sys.exit(main())
