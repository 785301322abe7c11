"""The served screens, asked as no browser would ask: past the pages, straight at the addresses."""

from __future__ import annotations

import asyncio
import http.client
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from threading import Event
from urllib.parse import urlencode

import pytest
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.types import Message, Receive, Scope, Send

from configurator.app import account_routes, identity
from configurator.app.account_routes import _log_in
from configurator.app.gate import gate
from configurator.record.database import open_record
from configurator.workflow import logging_in
from configurator.workflow.accounts import add_account, disable, enable
from configurator.workflow.logging_in import log_in_by_identity
from tests.browser.server import free_port, serving_screens

PASSWORD = "four invented words"  # noqa: S105  it opens nothing but this test
HTML = {"Accept": "text/html"}
UPGRADE = {
    "Connection": "Upgrade",
    "Upgrade": "websocket",
    "Sec-WebSocket-Version": "13",
    "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
}
CLOSED = (
    "/media/0.pdf",
    "/_stcore/upload_file/a/b",
    "/_stcore/bidi-components/x",
    "/component/x/index.html",
    "/_stcore/metrics",
    "/_stcore/script-health-check",
    "//media/0.pdf",
    "/anything",
)


class Asked:
    """What a server answered."""

    def __init__(self, answer: http.client.HTTPResponse) -> None:
        self.status = answer.status
        self.headers = answer.headers
        self.words = "" if answer.status == 101 else answer.read().decode("utf-8", "replace")


def ask(
    port: int,
    path: str,
    *,
    form: dict[str, str] | None = None,
    cookie: str = "",
    **headers: str,
) -> Asked:
    own = f"127.0.0.1:{port}"
    sent = {"Host": own, **({"Cookie": cookie} if cookie else {})}
    if form is not None:
        kind = "application/x-www-form-urlencoded"
        sent |= {"Origin": f"http://{own}", "Content-Type": kind}
    sent |= {name.replace("_", "-"): value for name, value in headers.items()}
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    method = "GET" if form is None else "POST"
    body = None if form is None else urlencode(form)
    connection.request(method, path, body, {key: value for key, value in sent.items() if value})
    answer = Asked(connection.getresponse())
    connection.close()
    return answer


def log_in(port: int, password: str = PASSWORD, **fields: str) -> Asked:
    form = {"name": "Ann Sample", "password": password} | fields
    return ask(port, "/account/log-in", form=form)


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[int, Path]]:
    """Screens of a workshop where Ann Sample has an account."""
    data = tmp_path_factory.mktemp("gate") / "data"
    record = open_record(data)
    add_account(record, "Ann Sample", ["engineer"], PASSWORD, now=datetime.now(UTC))
    record.engine.dispose()
    port = free_port()
    with serving_screens(data, port, solo=None):
        yield port, data


@pytest.fixture
def port(served: tuple[int, Path]) -> int:
    return served[0]


@pytest.fixture
def cookie(served: tuple[int, Path]) -> str:
    answer = log_in(served[0])
    assert 303 == answer.status
    return answer.headers["Set-Cookie"].split(";")[0]


def test_the_cookie_is_kept_from_scripts_and_from_other_sites(port: int) -> None:
    attributes = log_in(port).headers["Set-Cookie"].lower().split("; ")
    assert {"httponly", "samesite=strict", "path=/", "max-age=43200"} <= set(attributes)
    assert "secure" not in attributes
    sent_on = ask(
        port,
        "/account/log-in",
        form={"name": "Ann Sample", "password": PASSWORD},
        X_Forwarded_Proto="https",
    )
    assert "secure" in sent_on.headers["Set-Cookie"].lower().split("; ")


@pytest.mark.parametrize("path", CLOSED)
def test_nothing_is_sent_to_somebody_who_is_not_logged_in(port: int, path: str) -> None:
    assert (401, "Log in first.") == ((asked := ask(port, path)).status, asked.words)
    forged = ask(port, path, cookie=f"workshop-{port}={'x' * 43}")
    assert 401 == forged.status


def test_the_way_of_a_page_leads_over_the_log_in(port: int, cookie: str) -> None:
    asked = ask(port, "/papers?build=B-0001", **HTML)
    assert 303 == asked.status
    assert "/account/log-in?to=%2Fpapers%3Fbuild%3DB-0001" == asked.headers["Location"]
    assert 200 == ask(port, "/papers?build=B-0001", cookie=cookie, **HTML).status
    back = log_in(port, to="/papers?build=B-0001")
    assert "/papers?build=B-0001" == back.headers["Location"]


def test_no_way_round_through_an_open_folder(port: int) -> None:
    for path in ("/static/../media/0.pdf", "/account/..%2fmedia/0.pdf", "/static/%2e%2e/media/0"):
        assert ask(port, path).status in {400, 401, 404}, path


@pytest.mark.parametrize(
    "to", ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example", "x", "\r\n"]
)
def test_the_log_in_leads_to_no_other_site(port: int, to: str) -> None:
    assert "/" == log_in(port, to=to).headers["Location"]


def test_the_web_socket_opens_for_nobody_who_is_not_logged_in(port: int, cookie: str) -> None:
    assert 403 == ask(port, "/_stcore/stream", **UPGRADE).status
    assert 403 == ask(port, "/_stcore/stream", cookie=f"workshop-{port}=x", **UPGRADE).status
    assert 101 == ask(port, "/_stcore/stream", cookie=cookie, **UPGRADE).status
    elsewhere = {**UPGRADE, "Host": "elsewhere.example", "Origin": "http://elsewhere.example"}
    assert 403 == ask(port, "/_stcore/stream", cookie=cookie, **elsewhere).status


def test_no_page_of_another_server_speaks_to_the_screens(port: int, cookie: str) -> None:
    # Source: RFC 6455, 10.2: a server that serves its own pages alone must verify the Origin.
    own = f"http://127.0.0.1:{port}"
    assert 101 == ask(port, "/_stcore/stream", cookie=cookie, Origin=own, **UPGRADE).status
    others = ("http://127.0.0.1:1", f"http://localhost:{port}", "http://elsewhere.example", "null")
    for origin in others:
        opened = ask(port, "/_stcore/stream", cookie=cookie, Origin=origin, **UPGRADE)
        assert 403 == opened.status, origin
        assert 403 == ask(port, "/_stcore/health", Origin=origin).status, origin


def test_no_other_site_shows_the_screens_within_its_own(port: int, cookie: str) -> None:
    for path in ("/", "/papers?build=B-0001", "/account/password", "/media/0.pdf"):
        policy = ask(port, path, cookie=cookie, **HTML).headers["Content-Security-Policy"]
        assert "frame-ancestors 'none'" in policy, path


def test_no_paper_stays_in_the_browser_after_the_log_out(port: int, cookie: str) -> None:
    assert "no-store" == ask(port, "/media/0.pdf", cookie=cookie).headers["Cache-Control"]


def test_what_is_kept_for_those_logged_in_is_reached_by_them(port: int, cookie: str) -> None:
    assert 404 == ask(port, "/media/0.pdf", cookie=cookie).status


def test_logging_out_and_disabling_end_every_way_in(served: tuple[int, Path]) -> None:
    port, data = served
    for end in ("log out", "disable"):
        own = log_in(port).headers["Set-Cookie"].split(";")[0]
        assert 404 == ask(port, "/media/0.pdf", cookie=own).status
        if end == "log out":
            left = ask(port, "/account/log-out", form={}, cookie=own)
            assert "max-age=0" in left.headers["Set-Cookie"].lower()
        else:
            record = open_record(data)
            disable(record, "Ann Sample")
            assert 403 == log_in(port).status
            enable(record, "Ann Sample")
            record.engine.dispose()
        assert 401 == ask(port, "/media/0.pdf", cookie=own).status
        assert 403 == ask(port, "/_stcore/stream", cookie=own, **UPGRADE).status


def test_no_other_site_can_send_the_forms(port: int, cookie: str) -> None:
    form = {"name": "Ann Sample", "password": PASSWORD}
    for origin in ("http://elsewhere.example", "null", ""):
        for path in ("/account/log-in", "/account/log-out", "/account/password"):
            sent = ask(port, path, form=form, cookie=cookie, Origin=origin)
            assert (403, "Send this from the tool’s own page.") == (sent.status, sent.words)
    assert 404 == ask(port, "/media/0.pdf", cookie=cookie).status


def test_a_name_that_is_not_this_servers_is_refused(port: int, cookie: str) -> None:
    for host in ("elsewhere.example", "127.0.0.1@elsewhere.example", "127.0.0.1.elsewhere.example"):
        asked = ask(port, "/account/log-in", cookie=cookie, Host=host)
        assert 403 == asked.status, host


def test_a_link_from_elsewhere_loads_again_with_the_strict_cookie(port: int) -> None:
    came = {"Accept": "text/html", "Sec-Fetch-Site": "cross-site"}
    asked = ask(port, '/papers?build="><script>', **came)
    assert 200 == asked.status
    assert "url=/papers?build=&quot;&gt;&lt;script&gt;" in asked.words


def test_the_pages_round_the_log_in_are_not_kept_and_run_no_script(port: int) -> None:
    asked = ask(port, "/account/log-in?to=/<b>", **HTML)
    assert "no-store" == asked.headers["Cache-Control"]
    assert "default-src 'none'" in asked.headers["Content-Security-Policy"]
    assert "frame-ancestors 'none'" in asked.headers["Content-Security-Policy"]
    assert "/&lt;b&gt;" in asked.words
    assert "<b>" not in asked.words


def test_a_wrong_password_keeps_the_name_that_was_typed(port: int) -> None:
    refused = log_in(port, "not the right one", name='Bo <b>"x"')
    assert 403 == refused.status
    assert 'value="Bo &lt;b&gt;&quot;x&quot;"' in refused.words
    assert "not the right one" not in refused.words


def test_strangers_keep_nobody_out_of_their_own_browser(served: tuple[int, Path]) -> None:
    port, data = served
    record = open_record(data)
    add_account(record, "Di Sample", ["manager"], PASSWORD, now=datetime.now(UTC))
    record.engine.dispose()
    _, mark = log_in(port, name="Di Sample").headers.get_all("Set-Cookie") or ()
    assert {"httponly", "samesite=strict", "path=/"} <= set(mark.lower().split("; "))
    for _ in range(4):
        log_in(port, "a wrong one", name="Di Sample")
    assert "next may be made in" in log_in(port, name="Di Sample").words
    form = {"name": "di sample", "password": PASSWORD}
    assert 303 == ask(port, "/account/log-in", form=form, cookie=mark.split(";")[0]).status


def test_whoever_logs_in_takes_the_browser_over_from_who_was(port: int, cookie: str) -> None:
    form = {"name": "Ann Sample", "password": PASSWORD}
    again = ask(port, "/account/log-in", form=form, cookie=cookie)
    assert 303 == again.status
    assert 401 == ask(port, "/media/0.pdf", cookie=cookie).status
    own = again.headers["Set-Cookie"].split(";")[0]
    assert 404 == ask(port, "/media/0.pdf", cookie=own).status


def test_the_secret_written_into_a_page_counts_for_nothing_once_a_browser_has_come_in(
    served: tuple[int, Path],
) -> None:
    port, data = served
    record, now = open_record(data), datetime.now(UTC)
    add_account(record, "By Mail", ["engineer"], None, identity="m@mail.example", now=now)
    _, token = log_in_by_identity(record, ("m@mail.example",), now=now)
    record.engine.dispose()
    entered = ask(port, "/account/enter", form={"token": token})
    own = entered.headers["Set-Cookie"].split(";")[0]
    assert token not in own
    assert 404 == ask(port, "/media/0.pdf", cookie=own).status
    assert 401 == ask(port, "/media/0.pdf", cookie=f"workshop-{port}={token}").status
    assert ask(port, "/account/enter", form={"token": token}).headers["Set-Cookie"] is None


def test_a_flood_of_log_ins_stands_in_nobody_elses_way(monkeypatch: pytest.MonkeyPatch) -> None:
    goes_on, waiting = Event(), 200
    monkeypatch.setattr(logging_in, "log_in", lambda *_, **__: goes_on.wait(60) and "x")
    monkeypatch.setattr(account_routes, "record", lambda: None)
    for after in ("log_out", "mark_browser"):
        monkeypatch.setattr(logging_in, after, lambda *_: "")

    async def receive() -> Message:
        return {"type": "http.request", "body": b"name=x"}

    async def flooded() -> str:
        scope = {"type": "http", "method": "POST", "path": "/", "headers": [], "query_string": b""}
        tries = [asyncio.create_task(_log_in(Request(scope, receive))) for _ in range(waiting)]
        try:
            await asyncio.sleep(0.2)
            return await asyncio.wait_for(run_in_threadpool(lambda: "answered"), 10)
        finally:
            goes_on.set()
            await asyncio.gather(*tries)

    assert "answered" == asyncio.run(flooded())


def test_a_form_with_too_many_fields_is_not_read(port: int) -> None:
    form = {"name": "Ann Sample", "password": PASSWORD} | {f"x{n}": "" for n in range(30)}
    assert 403 == ask(port, "/account/log-in", form=form).status


def test_an_endless_form_is_not_read(port: int) -> None:
    answer = ask(port, "/account/log-in", form={"name": "x" * 100_000, "password": PASSWORD})
    assert 403 == answer.status


def test_once_there_is_an_account_nobody_makes_the_first_one(port: int) -> None:
    form = {"name": "Eve Example", "password": PASSWORD, "again": PASSWORD}
    made = ask(port, "/account/first", form=form)
    assert 403 == made.status
    assert "somebody else made the first account" in made.words.lower()
    assert made.headers["Set-Cookie"] is None


def test_the_password_is_changed_only_by_who_knows_it(served: tuple[int, Path]) -> None:
    port, data = served
    record = open_record(data)
    add_account(record, "Bo Example", ["consultant"], PASSWORD, now=datetime.now(UTC))
    record.engine.dispose()
    own = log_in(port, name="Bo Example").headers["Set-Cookie"].split(";")[0]
    form = {"before": "not the right one", "password": "other invented words"}
    form["again"] = form["password"]
    refused = ask(port, "/account/password", form=form, cookie=own)
    assert (403, True) == (refused.status, "do not go together" in refused.words)
    form["before"] = PASSWORD
    assert 303 == ask(port, "/account/password", form=form, cookie=own).status
    assert 401 == ask(port, "/media/0.pdf", cookie=own).status
    assert 403 == log_in(port, name="Bo Example").status
    assert 303 == log_in(port, "other invented words", name="Bo Example").status


@pytest.mark.parametrize(
    ("path", "is_open"),
    [
        ("/", True),
        ("/papers", True),
        ("/_stcore/stream", True),
        ("/auth/login", True),
        ("/oauth2callback", True),
        ("/media/0.pdf", False),
        ("/_stcore/metrics", False),
        ("/_stcore/upload_file/a/b", False),
        ("/_stcore/bidi-components/x", False),
        ("/component/x/index.html", False),
    ],
)
def test_on_the_way_to_a_provider_only_the_screens_are_open(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, path: str, is_open: bool
) -> None:
    monkeypatch.setattr("sys.argv", ["serve.py", "--data", str(tmp_path / "data")])
    monkeypatch.setattr(identity, "is_configured", lambda: True)
    reached: list[str] = []

    async def app(scope: Scope, _receive: Receive, _send: Send) -> None:
        reached.append(scope["path"])

    async def receive() -> Message:
        return {"type": "http.request"}

    async def send(_message: Message) -> None:
        return None

    asked = {"type": "http", "method": "GET", "path": path, "query_string": b""}
    asked["headers"] = [(b"host", b"127.0.0.1")]
    asyncio.run(gate(app)(asked, receive, send))
    assert ([path] if is_open else []) == reached


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """Screens of a workshop where nobody has an account."""
    port = free_port()
    with serving_screens(tmp_path_factory.mktemp("fresh") / "data", port, solo=None):
        yield port


def test_a_fresh_workshop_is_open_to_nobody_and_asks_for_the_first_account_here_alone(
    fresh: int,
) -> None:
    assert 401 == ask(fresh, "/media/0.pdf").status
    assert 403 == ask(fresh, "/_stcore/stream", **UPGRADE).status
    assert "The first account" in ask(fresh, "/account/log-in", **HTML).words
    form = {"name": "Eve Example", "password": PASSWORD, "again": PASSWORD}
    for passed_on in ({"X_Forwarded_For": "192.0.2.7"}, {"Forwarded": "for=192.0.2.7"}):
        asked = ask(fresh, "/account/log-in", **HTML, **passed_on)
        assert (403, False) == (asked.status, "<form" in asked.words)
        assert 403 == ask(fresh, "/account/first", form=form, **passed_on).status
    made = ask(fresh, "/account/first", form=form)
    assert 303 == made.status
    own = made.headers["Set-Cookie"].split(";")[0]
    assert 404 == ask(fresh, "/media/0.pdf", cookie=own).status
