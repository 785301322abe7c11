from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from configurator.app import people, session
from configurator.record.database import Record, open_record
from configurator.workflow import accounts, logging_in
from tests.app.conftest import Opener
from tests.app.screens import words

PASSWORD = "four invented words"  # noqa: S105  it opens nothing but this test


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return open_record(tmp_path / "data")


def _log_in(record: Record, monkeypatch: pytest.MonkeyPatch, *roles: str) -> str:
    now = datetime.now(UTC)
    accounts.add_account(record, "Ann Sample", roles, PASSWORD, now=now)
    token = logging_in.log_in(record, "Ann Sample", PASSWORD, now=now)
    monkeypatch.setattr(session, "cookie", lambda name: token if "workshop-" in name else None)
    return token


def _bar(screen: AppTest) -> str:
    (popover,) = screen.get("popover")
    return str(popover.proto.popover.label)


def test_the_one_person_named_at_the_start_acts_in_a_workshop_worked_alone(open_screens: Opener):
    screen = open_screens(solo=" A. Sample ")
    assert "A. Sample, manager, alone in this workshop" == _bar(screen)
    assert "was opened for one person alone" in words(screen)
    assert "manager" == screen.radio(key="role-worn").value
    screen.radio(key="role-worn").set_value("engineer").run()
    assert "engineer" == screen.run().radio(key="role-worn").value


def test_a_workshop_without_accounts_shows_nothing_unless_somebody_works_alone(
    open_screens: Opener,
):
    screen = open_screens(solo=None)
    assert "Nobody is logged in at this screen" in words(screen)
    assert not screen.button


def test_with_an_account_nobody_acts_without_logging_in(open_screens: Opener, record: Record):
    accounts.add_account(record, "Ann Sample", ["manager"], PASSWORD, now=datetime.now(UTC))
    assert "Nobody is logged in at this screen" in words(open_screens(solo="A. Sample"))


def test_whoever_is_logged_in_stands_in_the_bar_and_chooses_among_their_roles(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch
):
    token = _log_in(record, monkeypatch, "engineer", "manager")
    screen = open_screens(solo=None)
    assert "Ann Sample, engineer" == _bar(screen)
    assert 'action="/account/log-out"' in words(screen)
    assert ["Engineer", "Manager"] == screen.radio(key="role-worn").options
    screen.radio(key="role-worn").set_value("manager").run()
    assert "Ann Sample, manager" == _bar(screen)
    sign_in = logging_in.who_is(record, token, datetime.now(UTC))
    assert sign_in is not None
    assert "manager" == sign_in.role


def test_another_screen_of_the_same_browser_follows_the_role(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch
):
    token = _log_in(record, monkeypatch, "engineer", "manager")
    here, there = open_screens(solo=None), open_screens(solo=None)
    there.radio(key="role-worn").set_value("manager").run()
    assert "Ann Sample, manager" == _bar(here.run())
    sign_in = logging_in.who_is(record, token, datetime.now(UTC))
    assert sign_in is not None
    assert "manager" == sign_in.role


def test_an_open_screen_shows_nothing_more_once_logged_out_elsewhere(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch
):
    token = _log_in(record, monkeypatch, "engineer")
    screen = open_screens(solo=None)
    assert "start-enquiry" in [button.key for button in screen.button]
    logging_in.log_out(record, token)
    screen.run()
    assert "Nobody is logged in at this screen" in words(screen)
    assert not screen.button


def test_a_log_in_ends_by_itself(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch
):
    _log_in(record, monkeypatch, "engineer")
    screen = open_screens(solo=None)
    later = datetime.now(UTC) + logging_in.LOGGED_IN_FOR + timedelta(seconds=1)
    monkeypatch.setattr(people, "now", lambda: later)
    assert "Nobody is logged in at this screen" in words(screen.run())


def _who_acts() -> None:
    import streamlit as st

    from configurator.app.people import acting
    from configurator.errors import AccountError

    try:
        st.text(acting().in_words)
    except AccountError as error:
        st.text(str(error))


def test_nobody_acts_for_somebody_who_is_not_logged_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("sys.argv", ["main.py", "--data", str(tmp_path)])
    screen = AppTest.from_function(_who_acts).run()
    assert screen.text[0].value.endswith("[P058]")
