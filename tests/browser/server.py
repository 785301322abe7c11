"""Start the screens on a free loopback port, and stop them again."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]
MAIN = ROOT / "configurator" / "app" / "serve.py"
TINY = ROOT / "tests" / "catalogs" / "tiny"
LONGEST_START_S = 60
DATA_OF: dict[str, Path] = {}
"""Address of screens that are served → their data folder."""


def free_port() -> int:
    """Find a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


@contextmanager
def serving(script: Path, port: int, log: Path, *arguments: str) -> Iterator[str]:
    """Serve a script; gives its address, and the process has ended when this is left."""
    command = [
        sys.executable, "-m", "streamlit", "run", str(script), "--server.port", str(port),
        "--server.address", "127.0.0.1", "--", *arguments,
    ]  # fmt: skip
    with log.open("ab") as output:
        process = subprocess.Popen(command, cwd=log.parent, stdout=output, stderr=output)
        try:
            address = f"http://127.0.0.1:{port}"
            _wait_until_healthy(process, address, log)
            yield address
        finally:
            process.terminate()
            process.wait(timeout=20)


def serving_screens(
    data: Path, port: int, catalog: Path = TINY, solo: str | None = "Sole Sample"
) -> AbstractContextManager[str]:
    """Serve the screens on a catalog and a data folder, for somebody alone or for accounts."""
    DATA_OF[f"http://127.0.0.1:{port}"] = data
    log = data.parent / "screens.log"
    alone = [] if solo is None else ["--solo", solo]
    return serving(MAIN, port, log, "--catalog", str(catalog), "--data", str(data), *alone)


def _wait_until_healthy(process: subprocess.Popen[bytes], address: str, log: Path) -> None:
    health = f"{address}/_stcore/health"
    until = time.monotonic() + LONGEST_START_S
    while time.monotonic() < until and process.poll() is None:
        try:
            with urllib.request.urlopen(health, timeout=2) as answer:  # noqa: S310  own loopback
                if answer.status == 200:
                    return
        except (urllib.error.URLError, TimeoutError, ConnectionError):
            time.sleep(0.1)
    message = f"the screens did not start:\n{log.read_text('utf-8', 'replace')}"
    raise RuntimeError(message)
