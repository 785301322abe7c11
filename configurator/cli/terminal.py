"""The only room that writes to the terminal."""

from __future__ import annotations

import typer

from configurator.errors import ConfiguratorError, Fault


def say(line: str = "") -> None:
    """Print a line to a person or a script that reads on."""
    typer.echo(line)


def say_apart(line: str) -> None:
    """Print a line that is not part of the result: progress or a caution."""
    typer.echo(line, err=True)


def ask_unseen(question: str) -> str:
    """Ask twice for something that must not be seen while it is typed."""
    answer: str = typer.prompt(question, hide_input=True, confirmation_prompt="Once more", err=True)
    return answer


def fault_line(fault: Fault) -> str:
    r"""Write a fault in one line that cannot move the cursor or hide anything.

    Examples
    --------
    >>> fault_line(Fault("B001", "build.yaml", "odd \x1b[2J text", "Look."))
    'build.yaml: odd \\x1b[2J text. Look. [B001]'
    """
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode()
        for letter in str(fault)
    )


def say_faults(error: ConfiguratorError) -> None:
    """Print every fault of an error, one a line, apart from the result."""
    for fault in error.faults:
        say_apart(fault_line(fault))
