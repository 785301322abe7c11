"""A PostgreSQL server of our own for the tests: on loopback, in a folder gone afterwards."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import psycopg

SETTINGS = ("fsync=off", "synchronous_commit=off", "full_page_writes=off", "max_connections=40")
"""Quick and not safe against a power cut: the data is thrown away."""


@dataclass(frozen=True)
class Server:
    """A running server; `url_of_new_database` makes an empty database each time."""

    port: int
    numbers: Iterator[int] = field(default_factory=lambda: count(1))

    def url_of_new_database(self) -> str:
        name = f"record_{next(self.numbers)}"
        with psycopg.connect(self._address("postgres"), autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{name}" TEMPLATE template0')
        return f"postgresql+psycopg://postgres@127.0.0.1:{self.port}/{name}"

    def _address(self, database: str) -> str:
        return f"host=127.0.0.1 port={self.port} user=postgres dbname={database}"


def programs() -> Path | None:
    """Find the folder of the server's programs; None where it is not installed."""
    on_path = shutil.which("initdb")
    debian = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    if on_path:
        return Path(on_path).resolve().parent
    return debian[-1].parent if debian else None


@contextmanager
def serving() -> Iterator[Server]:
    """Start a server on a free port of loopback and stop it afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="record-postgresql-"))
    bin_folder = programs()
    assert bin_folder is not None
    # The server refuses to run as root; Debian's package brings a user for it.
    user = {"user": "postgres"} if os.geteuid() == 0 else {}
    if user:
        shutil.chown(folder, "postgres")
    data, port = folder / "data", _free_port()
    run = {"cwd": folder, "capture_output": True, **user}
    try:
        init = ["--auth=trust", "--username=postgres", "--encoding=UTF8", "--locale=C", "--no-sync"]
        subprocess.run([bin_folder / "initdb", "-D", data, *init], check=True, **run)
        options = " ".join(f"-c {setting}" for setting in SETTINGS)
        options += f" -c listen_addresses=127.0.0.1 -c port={port} -c unix_socket_directories="
        log = folder / "log"
        start = [bin_folder / "pg_ctl", "-D", data, "-w", "-l", log, "-o", options, "start"]
        subprocess.run(start, check=True, **run)
        yield Server(port)
    finally:
        stop = [bin_folder / "pg_ctl", "-D", data, "-m", "immediate", "stop"]
        subprocess.run(stop, check=False, **run)
        shutil.rmtree(folder, ignore_errors=True)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
