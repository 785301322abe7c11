import socket
from pathlib import Path

import pytest
from streamlit import config

from configurator.cli import server
from configurator.cli.server import (
    SETTINGS,
    allowed_hosts,
    free_port,
    server_command,
    web_address,
)
from configurator.errors import ConfiguratorError

EVERYWHERE = "0.0.0.0"  # noqa: S104  nothing listens there in these tests


def test_every_setting_exists_in_the_pinned_version_of_the_server() -> None:
    known = config.get_config_options()
    named = {*SETTINGS, "server.address", "server.port", "server.allowedHosts"}
    assert set() == named - known.keys()


def test_the_server_is_told_where_to_listen_and_whom_to_answer() -> None:
    command = server_command("127.0.0.1", 8600, ("127.0.0.1", "localhost"), Path("c"), Path("d"))
    assert Path(command[4]).is_file()
    assert {
        "--server.address=127.0.0.1",
        "--server.port=8600",
        "--server.allowedHosts=127.0.0.1",
        "--server.allowedHosts=localhost",
        "--browser.gatherUsageStats=false",
        "--client.showErrorDetails=none",
        "--server.fileWatcherType=none",
        "--runner.postScriptGC=false",
    } <= set(command)
    assert ["--", "--catalog", "c", "--data", "d"] == command[-5:]


def test_a_taken_port_is_told_when_it_was_wished_for() -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(ConfiguratorError, match=f"port {port} is taken") as caught:
            free_port("127.0.0.1", port)
    assert ["O001"] == [fault.code for fault in caught.value.faults]
    assert port == free_port("127.0.0.1", port)


def test_without_a_wish_the_next_free_port_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        first = other.getsockname()[1]
        monkeypatch.setattr(server, "DEFAULT_PORT", first)
        assert first < free_port("127.0.0.1", None) < first + server.PORTS_TRIED


@pytest.mark.parametrize("address", ["203.0.113.7", "not an address", "<b>"])
def test_an_address_that_is_not_this_machine_s_is_told(address: str) -> None:
    with pytest.raises(ConfiguratorError) as caught:
        free_port(address, 8600)
    assert ["O002"] == [fault.code for fault in caught.value.faults]


def test_on_a_network_only_named_hosts_are_answered() -> None:
    hosts = allowed_hosts(EVERYWHERE, ["tablet.example"])
    assert {"tablet.example", socket.gethostname(), "localhost"} <= set(hosts)
    assert not {EVERYWHERE, "*", "::"} & set(hosts)


def test_the_address_to_open_is_one_a_browser_can_reach() -> None:
    assert "http://192.0.2.1:8501" == web_address("192.0.2.1", 8501)
