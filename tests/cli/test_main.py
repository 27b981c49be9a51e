"""The command line as a person meets it: help, nearly right names, refusals in one message."""

from __future__ import annotations

import click
import pytest

from stavewright.cli import main as front
from stavewright.cli.lazy import Entry, LazyGroup
from stavewright.theory.errors import StavewrightError


@click.command()
def refuse() -> None:
    """Refuse everything."""
    raise StavewrightError("grade 9 is not a grade", where="--grade", right="use 1 to 5")


@click.command()
def blunder() -> None:
    """Fail by a fault of the program's own."""
    raise ValueError("the program is wrong")


@click.command()
def seven() -> int:
    """Answer with an exit code of its own."""
    return 7


NOT_A_COMMAND = "just words"


@pytest.fixture
def commands(monkeypatch: pytest.MonkeyPatch) -> None:
    """A table of three commands that live in this file."""
    here = __name__
    monkeypatch.setitem(front.cli.entries, "refuse", Entry(f"{here}:refuse", "Refuse."))
    monkeypatch.setitem(front.cli.entries, "blunder", Entry(f"{here}:blunder", "Blunder."))
    monkeypatch.setitem(front.cli.entries, "seven", Entry(f"{here}:seven", "Seven."))


@pytest.mark.usefixtures("commands")
def test_a_refusal_is_one_readable_message_and_exit_code_two(capsys: pytest.CaptureFixture[str]) -> None:
    assert front.main(["refuse"]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err == "Error: grade 9 is not a grade (--grade): use 1 to 5\n"


@pytest.mark.usefixtures("commands")
def test_a_fault_of_the_program_is_never_shown_as_bad_input() -> None:
    with pytest.raises(ValueError, match="the program is wrong"):
        front.main(["blunder"])


@pytest.mark.usefixtures("commands")
def test_a_command_may_answer_with_its_exit_code() -> None:
    assert front.main(["seven"]) == 7


@pytest.mark.parametrize("arguments", [["no-such-command"], ["--no-such-option"], ["refuse", "--no-such-option"]])
@pytest.mark.usefixtures("commands")
def test_an_unknown_command_or_option_is_exit_code_two(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert front.main(arguments) == 2
    assert "No such" in capsys.readouterr().err


@pytest.mark.usefixtures("commands")
def test_a_name_nearly_right_is_told_which_was_meant(capsys: pytest.CaptureFixture[str]) -> None:
    assert front.main(["refus"]) == 2
    assert "Did you mean 'refuse'?" in capsys.readouterr().err


def test_help_is_exit_code_nought_and_shows_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    assert front.main(["--help"]) == 0
    assert "Examples:" in capsys.readouterr().out


def test_every_command_of_the_table_can_be_imported() -> None:
    context = click.Context(front.cli)
    for name in front.COMMANDS:
        command = front.cli.get_command(context, name)
        assert isinstance(command, click.Command), name


def test_a_table_entry_that_is_no_command_is_a_fault_of_the_program() -> None:
    group = LazyGroup(name="demo", entries={"bad": Entry(f"{__name__}:NOT_A_COMMAND", "Not one.")})
    with pytest.raises(TypeError, match="not a command"):
        group.get_command(click.Context(group), "bad")
