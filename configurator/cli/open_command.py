"""`configurator open`: start the screens."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from configurator.catalog.load import load_catalog
from configurator.cli.folders import DEFAULT_DATA, CatalogFolder, DataFolder
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
from configurator.record.database import open_record


def open_screens(
    *,
    catalog: CatalogFolder,
    data: DataFolder = DEFAULT_DATA,
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
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open a browser window.")
    ] = True,
) -> None:
    """Start the screens and open them in the browser.

    Example: configurator open --catalog catalog --data outputs --port 8600
    """
    catalog, data = catalog.resolve(), data.resolve()
    _check_folders(catalog, data)
    chosen_port = free_port(address, port)
    if not is_loopback(address):
        _warn_of_the_network(address)
    command = server_command(
        address, chosen_port, allowed_hosts(address, host_name or ()), catalog, data
    )
    url = web_address(address, chosen_port)
    host = url.removeprefix("http://").rpartition(":")[0].strip("[]")
    run_screens(command, url, log_path(data), host=host, port=chosen_port, opens_browser=browser)


def _check_folders(catalog: Path, data: Path) -> None:
    load_catalog(catalog)
    open_record(data).engine.dispose()


def _warn_of_the_network(address: str) -> None:
    say_apart(
        f"Caution: with the address {address} anyone on your network can read and change every "
        "build. There are no accounts yet, and what is sent is not encrypted. Use this only on a "
        "network where you trust everybody."
    )
