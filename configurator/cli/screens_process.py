"""Start the screens beside this process, wait until they answer, and end them with it."""

from __future__ import annotations

import http
import http.client
import os
import signal
import subprocess
import sys
import time
import webbrowser
from collections.abc import Sequence
from pathlib import Path
from types import FrameType

from configurator.cli.terminal import say
from configurator.errors import ConfiguratorError, Fault

START_SECONDS = 60.0


def run_screens(
    command: Sequence[str], url: str, log: Path, *, host: str, port: int, opens_browser: bool
) -> int:
    """Run the screens until somebody ends them.

    Parameters
    ----------
    command : sequence of str
        Program and arguments.
    url : str
        What people type into a browser.
    log : Path
        Takes what the server writes.
    host, port : str and int
        Where it answers.
    opens_browser : bool
        Open a window once it answers.

    Returns
    -------
    int
        Exit code: 0 when it was ended from outside.

    Raises
    ------
    ConfiguratorError
        If it does not start to answer.
    """
    with log.open("ab") as log_file:
        server = subprocess.Popen(  # noqa: S603  our own interpreter with our own arguments
            list(command), stdin=subprocess.DEVNULL, stdout=log_file, stderr=log_file
        )
    signal.signal(signal.SIGTERM, _as_keyboard_interrupt)
    try:
        _wait_until_it_answers(server, host, port, log)
        say(f"The workshop is open at {url}")
        say("Press Ctrl+C here to close it. Everything picked is saved already.")
        if opens_browser and has_display(os.environ, sys.platform):
            webbrowser.open(url)
        code = server.wait()
    except KeyboardInterrupt:
        say("Closed.")
        return 0
    finally:
        _end(server)
    raise ConfiguratorError([_stopped(code, log)])


def has_display(environment: os._Environ[str] | dict[str, str], platform: str) -> bool:
    """Tell whether a browser window could open here.

    Examples
    --------
    >>> has_display({}, "linux"), has_display({"DISPLAY": ":0"}, "linux"), has_display({}, "win32")
    (False, True, True)
    """
    if not platform.startswith("linux"):
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def _wait_until_it_answers(
    server: subprocess.Popen[bytes], host: str, port: int, log: Path
) -> None:
    deadline = time.monotonic() + START_SECONDS
    while not _answers(host, port):
        code = server.poll()
        if code is not None or time.monotonic() > deadline:
            raise ConfiguratorError([_stopped(code, log)])
        time.sleep(0.1)


def _answers(host: str, port: int) -> bool:
    connection = http.client.HTTPConnection(host, port, timeout=2)
    try:
        connection.request("GET", "/_stcore/health")
        return connection.getresponse().status == http.HTTPStatus.OK
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()


def _end(server: subprocess.Popen[bytes]) -> None:
    if server.poll() is not None:
        return
    server.terminate()
    try:
        server.wait(timeout=5)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()


def _as_keyboard_interrupt(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _stopped(code: int | None, log: Path) -> Fault:
    what = "the screens did not answer in time" if code is None else "the screens stopped"
    return Fault("O003", "open", what, f"What they wrote is at the end of {log}.")
