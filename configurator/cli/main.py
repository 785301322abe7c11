"""The command line: its commands, and what is said when one fails."""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence
from pathlib import Path

import typer

from configurator.cli import accounts_command, customers_command
from configurator.cli.backup_command import backup, restore
from configurator.cli.check_command import check
from configurator.cli.demo_command import demo
from configurator.cli.folders import DEFAULT_DATA
from configurator.cli.log import keep_details
from configurator.cli.open_command import open_screens
from configurator.cli.spec_command import spec
from configurator.cli.terminal import say_apart, say_faults
from configurator.cli.verify_command import verify
from configurator.errors import ConfiguratorError

FAULTS_FOUND = 1
UNFORESEEN = 3

app = typer.Typer(
    help="Configure a classic vehicle's conversion to battery-electric drive, and write its "
    "documents. Computed checks inform; they are no approval.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
app.command("open")(open_screens)
app.command("check")(check)
app.command("spec")(spec)
app.command("demo")(demo)
app.command("verify")(verify)
app.command("backup")(backup)
app.command("restore")(restore)
app.add_typer(accounts_command.app, name="accounts")
app.add_typer(customers_command.app, name="customers")


def run(arguments: Sequence[str] | None = None) -> None:
    """Run one command and leave with its exit code.

    0: done. 1: faults found in what was given. 2: wrong usage. 3: something unforeseen.
    """
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        app(args=given, prog_name="configurator")
    except ConfiguratorError as error:
        say_faults(error)
        sys.exit(FAULTS_FOUND)
    except Exception as error:  # noqa: BLE001  the last stop before a person would see a traceback
        _say_calmly(given, error)
        sys.exit(UNFORESEEN)


def _say_calmly(given: Sequence[str], error: Exception) -> None:
    doing = " ".join(["configurator", *without_password(given)])
    log = keep_details(_data_folder(given), doing, error)
    say_apart(
        f"Something unforeseen happened during: {doing}. Nothing that was saved is lost. "
        f"The details are in {log}; please show them to whoever looks after the tool. [O004]"
    )


def without_password(given: Sequence[str]) -> list[str]:
    """Leave out the address of a database, which may hold a password.

    Examples
    --------
    >>> without_password(["demo", "--database", "a secret", "--database=another"])
    ['demo', '--database', '…', '--database=…']
    """
    before = ["", *given]
    return [
        "…" if previous == "--database" else re.sub(r"^(--database=).*", r"\1…", word, flags=re.S)
        for previous, word in zip(before, given, strict=False)
    ]


def _data_folder(given: Sequence[str]) -> Path:
    for here, following in zip(given, [*given[1:], ""], strict=True):
        if here == "--data" and following:
            return Path(following)
        if here.startswith("--data="):
            return Path(here.removeprefix("--data="))
    return DEFAULT_DATA
