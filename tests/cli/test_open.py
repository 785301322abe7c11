import http.client
import os
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from configurator.errors import AccountError
from configurator.record.database import open_record
from configurator.workflow.accounts import add_account

Run = Callable[..., subprocess.CompletedProcess[str]]
ROOT = Path(__file__).parents[2]
ALONE = ("--solo", "Sole Sample")
EVERYWHERE = "0.0.0.0"  # noqa: S104  nothing listens there in these tests


@pytest.fixture
def opened(catalog_folder: Path, tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], int]]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "configurator", "open", "--no-browser", "--port", str(port)]
    process = subprocess.Popen(
        [*command, "--catalog", str(catalog_folder), "--data", str(tmp_path / "data"), *ALONE],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    yield process, port
    process.terminate()
    process.communicate(timeout=30)


def status(port: int, path: str, host: str, upgrade: bool = False) -> int:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    headers = {"Host": host}
    if upgrade:
        headers |= {
            "Connection": "Upgrade",
            "Upgrade": "websocket",
            "Sec-WebSocket-Version": "13",
            "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
        }
    connection.request("GET", path, headers=headers)
    code = connection.getresponse().status
    connection.close()
    return code


@pytest.mark.skipif(os.name == "nt", reason="Windows ends a process without a signal")
def test_the_screens_open_at_the_address_printed_and_close_when_asked(
    opened: tuple[subprocess.Popen[str], int], tmp_path: Path
) -> None:
    process, port = opened
    assert process.stdout is not None
    assert f"The workshop is open at http://127.0.0.1:{port}\n" == process.stdout.readline()
    assert 200 == status(port, "/", f"127.0.0.1:{port}")
    assert 101 == status(port, "/_stcore/stream", f"localhost:{port}", upgrade=True)
    assert 403 == status(port, "/_stcore/stream", "elsewhere.example", upgrade=True)
    process.send_signal(signal.SIGTERM)
    said, complained = process.communicate(timeout=30)
    assert (0, "Closed.") == (process.returncode, said.splitlines()[-1])
    assert complained.startswith("Opened for Sole Sample alone: nobody logs in")
    assert "Whoever can use this machine" in complained
    assert 1 == len(complained.splitlines())
    with socket.socket() as probe:
        assert 0 != probe.connect_ex(("127.0.0.1", port))
    assert (tmp_path / "data" / "record.sqlite").is_file()


def test_a_broken_catalog_is_told_before_anything_starts(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    (catalog_folder / "stages.yaml").unlink()
    done = configurator("open", "--catalog", catalog_folder, "--data", "data")
    assert (1, "") == (done.returncode, done.stdout)
    assert "stages.yaml" in done.stderr
    assert not (tmp_path / "data").exists()


def test_a_data_folder_that_cannot_be_written_is_told(
    configurator: Run, catalog_folder: Path, tmp_path: Path
) -> None:
    (tmp_path / "data").write_text("not a folder")
    done = configurator("open", "--catalog", catalog_folder, "--data", "data")
    assert 1 == done.returncode
    assert "[R001]" in done.stderr


def test_a_taken_port_is_told(configurator: Run, catalog_folder: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        done = configurator("open", "--catalog", catalog_folder, "--port", str(port))
    assert 1 == done.returncode
    assert f"port {port} is taken" in done.stderr


def test_a_network_address_is_cautioned_against(
    monkeypatch: pytest.MonkeyPatch,
    catalog_folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    from configurator.cli import open_command

    started: list[list[str]] = []
    monkeypatch.setattr(
        open_command, "run_screens", lambda command, *_, **__: started.append(command)
    )
    open_command.open_screens(catalog=catalog_folder, data=tmp_path / "data", address=EVERYWHERE)
    said = capsys.readouterr().err
    assert "The screen asks for the first one, on this machine alone" in said
    assert "anyone on your network reaches the log-in" in said
    assert "not encrypted: whoever listens on that network can read it" in said
    assert f"--server.address={EVERYWHERE}" in started[0]


def test_nobody_works_alone_where_others_have_accounts_or_can_reach_the_tool(
    catalog_folder: Path, tmp_path: Path
) -> None:
    from configurator.cli import open_command

    record = open_record(tmp_path / "data")
    now = datetime.now(UTC)
    add_account(record, "Ann Sample", ["manager"], "four invented words", now=now)
    record.engine.dispose()
    with pytest.raises(AccountError) as refused:
        open_command.open_screens(
            catalog=catalog_folder, data=tmp_path / "data", address=EVERYWHERE, solo="A. Sample"
        )
    assert ["O005", "O006"] == [fault.code for fault in refused.value.faults]


def test_a_name_that_cannot_stand_under_a_signature_works_nowhere(
    configurator: Run, catalog_folder: Path
) -> None:
    done = configurator("open", "--catalog", catalog_folder, "--data", "data", "--solo", "  ")
    assert 1 == done.returncode
    assert "[P050]" in done.stderr
