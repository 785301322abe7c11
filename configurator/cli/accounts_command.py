"""`configurator accounts`: who may log in, and in which roles."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from configurator.cli.folders import DEFAULT_DATA, DatabaseUrl, DataFolder
from configurator.cli.terminal import ask_unseen, say
from configurator.record.accounts import Account, list_accounts
from configurator.record.database import Record, open_record
from configurator.workflow import accounts

app = typer.Typer(
    help="Say who may log in, and in which roles.\n\nExample: configurator accounts list",
    no_args_is_help=True,
    rich_markup_mode=None,
)

Name = Annotated[
    str, typer.Argument(metavar="NAME", help="As it stands under what the person signs.")
]
Roles = Annotated[
    list[str],
    typer.Option(
        "--role",
        metavar="ROLE",
        help=f"One of {', '.join(accounts.ROLES)}; may be given again.",
    ),
]
Identity = Annotated[
    str | None,
    typer.Option(
        metavar="E-MAIL",
        help="The e-mail address, or lasting identifier, that the identity provider confirms; "
        "no password is asked then.",
    ),
]


@app.command("list")
def list_all(data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None) -> None:
    """List the accounts.

    Example: configurator accounts list --data outputs
    """
    found = list_accounts(_record(data, database))
    for account in found:
        say(_line(account))
    if not found:
        say("Nobody has an account yet.")


@app.command("add")
def add(
    name: Name,
    role: Roles,
    identity: Identity = None,
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
) -> None:
    """Add an account. The password is asked for, or read as a line from the standard input.

    Example: configurator accounts add "Ann Sample" --role engineer --role manager
    """
    record = _record(data, database)
    password = None if identity else _password(name)
    _tell(
        accounts.add_account(record, name, role, password, identity=identity, now=datetime.now(UTC))
    )


@app.command("roles")
def roles(
    name: Name, role: Roles, data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None
) -> None:
    """Give an account these roles and no others.

    Example: configurator accounts roles "Ann Sample" --role engineer
    """
    _tell(accounts.give_roles(_record(data, database), name, role))


@app.command("password")
def password(name: Name, data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None) -> None:
    """Set another password, and log the person out everywhere.

    Example: configurator accounts password "Ann Sample"
    """
    record = _record(data, database)
    _tell(accounts.change_password(record, name, _password(name)))


@app.command("disable")
def disable(name: Name, data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None) -> None:
    """Let somebody in no longer, and log them out; what they signed keeps standing.

    Example: configurator accounts disable "Ann Sample"
    """
    _tell(accounts.disable(_record(data, database), name))


@app.command("enable")
def enable(name: Name, data: DataFolder = DEFAULT_DATA, database: DatabaseUrl = None) -> None:
    """Let somebody in again who was kept out.

    Example: configurator accounts enable "Ann Sample"
    """
    _tell(accounts.enable(_record(data, database), name))


def _record(data: Path, database: str | None) -> Record:
    return open_record(data.resolve(), database)


def _password(name: str) -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    return ask_unseen(f"Password for {name}, {accounts.SHORTEST_PASSWORD} characters or more")


def _tell(account: Account) -> None:
    say(_line(account))


def _line(account: Account) -> str:
    told = ", ".join(role.replace("-", " ") for role in account.roles)
    ways = [*(["password"] if account.has_password else []), account.identity or ""]
    way = " or ".join(filter(None, ways))
    return f"{account.name}: {told}; by {way}{'' if account.is_active else '; disabled'}"
