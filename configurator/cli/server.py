"""The server of the screens: its address, its port and its safe settings."""

from __future__ import annotations

import ipaddress
import os
import socket
import sys
from collections.abc import Iterable, Mapping
from importlib.util import find_spec
from pathlib import Path

from configurator.errors import ConfiguratorError, Fault

DEFAULT_PORT = 8501
PORTS_TRIED = 20
KEEP_SESSION_SECONDS = 12 * 60 * 60
"""A laptop that slept through lunch finds its screen as it was."""

SETTINGS: Mapping[str, str] = {
    "server.headless": "true",
    "server.fileWatcherType": "none",
    "server.runOnSave": "false",
    "server.enableXsrfProtection": "true",
    "server.enableCORS": "true",
    "server.enableAgentApi": "false",
    "server.disconnectedSessionTTL": str(KEEP_SESSION_SECONDS),
    "browser.gatherUsageStats": "false",
    "client.showErrorDetails": "none",
    "client.toolbarMode": "minimal",
    "runner.postScriptGC": "false",
    "logger.level": "warning",
}


def server_command(
    address: str,
    port: int,
    hosts: Iterable[str],
    catalog: Path,
    data: Path,
    *,
    solo: str | None = None,
) -> list[str]:
    """Write the command that starts the screens.

    Parameters
    ----------
    address : str
        Where the server listens.
    port : int
        Its port.
    hosts : iterable of str
        Names under which browsers may ask for it.
    catalog, data : Path
        Handed on to the screens.
    solo : str, optional
        Who works here alone, without logging in.

    Returns
    -------
    list of str
        Program and arguments.
    """
    app = find_spec("configurator.app")
    folder = Path(next(iter(app.submodule_search_locations or ()))) if app else Path()
    flags = [f"--{name}={value}" for name, value in SETTINGS.items()]
    flags += [f"--server.address={address}", f"--server.port={port}"]
    flags += [f"--server.allowedHosts={host}" for host in hosts]
    run = [sys.executable, "-m", "streamlit", "run", str(folder / "serve.py")]
    alone = [] if solo is None else [f"--solo={solo}"]
    return [*run, *flags, "--", "--catalog", str(catalog), "--data", str(data), *alone]


def is_loopback(address: str) -> bool:
    """Tell whether an address is reached from this machine alone.

    Examples
    --------
    >>> is_loopback("127.0.0.1"), is_loopback("localhost"), is_loopback("0.0.0.0")
    (True, True, False)
    """
    if address == "localhost":
        return True
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False


def allowed_hosts(address: str, extra: Iterable[str]) -> tuple[str, ...]:
    """List the names under which the screens answer; every other name is refused.

    Examples
    --------
    >>> allowed_hosts("127.0.0.1", ["workshop.example"])
    ('127.0.0.1', 'localhost', '::1', 'workshop.example')
    """
    names = ["127.0.0.1", "localhost", "::1"]
    if not is_loopback(address):
        names += [address, *_names_of_this_machine()]
    every_interface = {"0.0.0.0", "::"}  # noqa: S104  compared with, not listened on
    return tuple(dict.fromkeys(n for n in [*names, *extra] if n not in every_interface))


def free_port(address: str, wished: int | None) -> int:
    """Find a port to listen on: the wished one, or the first free one from the default up.

    Raises
    ------
    ConfiguratorError
        If the wished port, or every port tried, is taken; or the address is not this machine's.
    """
    ports = range(DEFAULT_PORT, DEFAULT_PORT + PORTS_TRIED) if wished is None else [wished]
    for port in ports:
        if _is_free(address, port):
            return port
    taken = str(wished) if wished is not None else f"{ports[0]} to {ports[-1]}"
    remedy = "Close what uses it, perhaps another window of this tool, or name another with --port."
    what = f"port {taken} is taken by another program"
    raise ConfiguratorError([Fault("O001", address, what, remedy)])


def web_address(address: str, port: int) -> str:
    """Write the address for a browser on this machine.

    Examples
    --------
    >>> web_address("0.0.0.0", 8501), web_address("::1", 8501)
    ('http://127.0.0.1:8501', 'http://[::1]:8501')
    """
    if address in {"0.0.0.0", "::", "localhost"}:  # noqa: S104  compared with, not listened on
        address = "127.0.0.1"
    return f"http://[{address}]:{port}" if ":" in address else f"http://{address}:{port}"


def _is_free(address: str, port: int) -> bool:
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        if os.name != "nt":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address, port))
        except PermissionError:
            return False
        except OSError as error:
            if isinstance(error, socket.gaierror) or _is_foreign(error):
                raise ConfiguratorError([_bad_address(address, error)]) from error
            return False
    return True


def _is_foreign(error: OSError) -> bool:
    # Linux 99, macOS 49, Windows 10049: the address is none of this machine's.
    return error.errno in {99, 49, 10049}


def _bad_address(address: str, error: OSError) -> Fault:
    what = f"the address cannot be used ({error.strerror or error})"
    remedy = "Name an address of this machine with --address, or leave it out for 127.0.0.1."
    return Fault("O002", address[:80], what, remedy)


def _names_of_this_machine() -> list[str]:
    name = socket.gethostname()
    try:
        return [name, *socket.gethostbyname_ex(name)[2]]
    except OSError:
        return [name]
