"""`configurator open`: start the screens."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Annotated

import typer

from configurator.build_life.people import Person
from configurator.catalog.load import load_catalog
from configurator.cli.folders import (
    DEFAULT_DATA,
    CatalogFolder,
    DatabaseUrl,
    DataFolder,
)
from configurator.cli.log import log_path
from configurator.cli.screens_process import run_screens
from configurator.cli.server import (
    allowed_hosts,
    free_port,
    is_loopback,
    server_command,
    web_address,
)
from configurator.cli.terminal import say_apart
from configurator.errors import AccountError, Fault
from configurator.record.addresses import DATABASE_VARIABLE
from configurator.record.database import open_record
from configurator.workflow.accounts import anybody_has_one, name_faults


def open_screens(
    *,
    catalog: CatalogFolder,
    data: DataFolder = DEFAULT_DATA,
    database: DatabaseUrl = None,
    address: Annotated[
        str, typer.Option(metavar="ADDRESS", help="Listen here; the default is this machine alone.")
    ] = "127.0.0.1",
    port: Annotated[
        int | None,
        typer.Option(
            min=1,
            max=65535,
            metavar="PORT",
            show_default="8501 or the next free one",
            help="Listen on this port.",
        ),
    ] = None,
    host_name: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME", help="Answer under this name too; may be given again."),
    ] = None,
    solo: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="One person alone works here: nobody logs in, and every signature says so.",
        ),
    ] = None,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open a browser window.")
    ] = True,
) -> None:
    """Start the screens and open them in the browser.

    Example: configurator open --catalog catalog --data outputs --port 8600
    """
    catalog, data = catalog.resolve(), data.resolve()
    has_accounts = _check_folders(catalog, data, database)
    if solo is not None:
        solo = _alone(solo, address, has_accounts=has_accounts)
    chosen_port = free_port(address, port)
    if solo is None and not has_accounts:
        _tell_of_the_first_account()
    if not is_loopback(address):
        _warn_of_the_network(address)
    hosts = allowed_hosts(address, host_name or ())
    command = server_command(address, chosen_port, hosts, catalog, data, solo=solo)
    url = web_address(address, chosen_port)
    host = url.removeprefix("http://").rpartition(":")[0].strip("[]")
    run_screens(command, url, log_path(data), host=host, port=chosen_port, opens_browser=browser)


def _check_folders(catalog: Path, data: Path, database: str | None) -> bool:
    load_catalog(catalog)
    record = open_record(data, database)
    if database:
        # On the command line of the screens everybody on this machine could read the password.
        os.environ[DATABASE_VARIABLE] = database
    has_accounts = anybody_has_one(record)
    record.engine.dispose()
    return has_accounts


def _alone(name: str, address: str, *, has_accounts: bool) -> str:
    """Refuse to let everybody in by one name where that would not be true."""
    faults = name_faults(name)
    if has_accounts:
        what = "people have accounts here, so nobody works alone and everybody logs in"
        faults.append(Fault("O005", "--solo", what, "Leave --solo out and log in."))
    if not is_loopback(address):
        what = f"with the address {address} others could reach the tool and act under your name"
        remedy = "Leave --address out, or give people accounts with `configurator accounts add`."
        faults.append(Fault("O006", "--solo", what, remedy))
    if faults:
        raise AccountError(faults)
    person = Person(name=name, role="manager", is_solo=True)
    say_apart(
        f"Opened for {person.name} alone: nobody logs in, and every signature says that one person "
        "alone keeps this record, so that nobody else has checked it. Whoever can use this "
        "machine, from another of its users' accounts too, can act under that name."
    )
    return person.name


def _tell_of_the_first_account() -> None:
    say_apart(
        "Nobody has an account here yet. The screen asks for the first one, on this machine "
        "alone. To work here alone without logging in, start it with --solo NAME."
    )


def _warn_of_the_network(address: str) -> None:
    say_apart(
        f"Caution: with the address {address} anyone on your network reaches the log-in. What is "
        "sent is not encrypted: whoever listens on that network can read it, passwords and "
        "customers' data too, and act as whoever is logged in. Use this only on a network where "
        "you trust everybody, or let a web server with TLS stand before it."
    )
