from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
import streamlit as st

from configurator.app import identity
from configurator.record.database import Record, open_record
from configurator.workflow import accounts, logging_in
from tests.app.conftest import Opener
from tests.app.screens import words

KNOWN = {
    "is_logged_in": True,
    "email": "Ann@mail.example",
    "email_verified": True,
    "sub": "7",
    "exp": datetime.now(UTC).timestamp() + 3600,
}


class KnownUser:
    """What Streamlit tells of somebody, without a provider."""

    def __init__(self, **claims: object) -> None:
        self._claims = claims

    def to_dict(self) -> dict[str, object]:
        return self._claims


@pytest.fixture
def record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Record:
    opened = open_record(tmp_path / "data")
    monkeypatch.setattr(identity, "is_configured", lambda: True)
    accounts.add_account(
        opened,
        "Ann Sample",
        ["engineer"],
        None,
        identity="ann@mail.example",
        now=datetime.now(UTC),
    )
    return opened


def test_whoever_the_provider_confirms_comes_in_to_their_account(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(st, "user", KnownUser(**KNOWN))
    screen = open_screens(solo=None)
    said = words(screen.run())
    assert "Come in as Ann Sample" in said
    assert '<form action="/account/enter" method="post">' in said
    (token,) = re.findall(r'name="token" value="([^"]+)"', said)
    sign_in = logging_in.who_is(record, token, datetime.now(UTC))
    assert sign_in is not None
    assert "Ann Sample, engineer" == logging_in.person_of(sign_in).in_words
    assert token in words(screen.run()), "one secret for one screen, not one for each look"


@pytest.mark.parametrize(
    "claims",
    [
        {**KNOWN, "email": "stranger@mail.example"},
        {**KNOWN, "email_verified": False},
        {key: value for key, value in KNOWN.items() if key != "email_verified"},
        {**KNOWN, "email": "", "sub": "ann@mail.example"},
        {**KNOWN, "email": None, "sub": "8", "preferred_username": "ann@mail.example"},
        {**KNOWN, "email": None, "sub": "", "name": "Ann Sample"},
    ],
)
def test_nobody_comes_in_as_somebody_else_and_no_account_is_made(
    open_screens: Opener,
    record: Record,
    monkeypatch: pytest.MonkeyPatch,
    claims: dict[str, object],
):
    monkeypatch.setattr(st, "user", KnownUser(**claims))
    screen = open_screens(solo=None)
    assert "The identity provider knows you, the workshop does not" in words(screen)
    assert 'name="token"' not in words(screen)
    assert ["provider-out"] == [button.key for button in screen.button]
    with pytest.raises(Exception, match="no account here has"):
        logging_in.log_in_by_identity(record, identity.identities(claims), now=datetime.now(UTC))


@pytest.mark.parametrize("exp", [1_772_000_000, None, "later"], ids=["past", "none", "words"])
def test_what_the_provider_confirmed_long_ago_lets_nobody_in(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch, exp: object
):
    # Source: OpenID Connect Core 1.0, 2: after `exp` an ID token must not be accepted.
    monkeypatch.setattr(st, "user", KnownUser(**{**KNOWN, "exp": exp}))
    screen = open_screens(solo=None)
    assert 'name="token"' not in words(screen)
    assert ["provider"] == [button.key for button in screen.button]


def test_the_secret_in_a_page_counts_for_minutes_alone(record: Record):
    now = datetime.now(UTC)
    _, token = logging_in.log_in_by_identity(record, ("ann@mail.example",), now=now)
    later = now + logging_in.COME_IN_WITHIN
    assert logging_in.who_is(record, token, later) is None
    assert logging_in.exchange(record, token, now=later) is None
    _, token = logging_in.log_in_by_identity(record, ("ann@mail.example",), now=now)
    own = logging_in.exchange(record, token, now=now)
    assert own is not None
    assert logging_in.who_is(record, own, later) is not None


def test_somebody_unknown_is_led_to_the_provider(
    open_screens: Opener, record: Record, monkeypatch: pytest.MonkeyPatch
):
    asked: list[bool] = []
    monkeypatch.setattr(st, "user", KnownUser(is_logged_in=False))
    monkeypatch.setattr(st, "login", lambda: asked.append(True))
    screen = open_screens(solo=None)
    assert "start-enquiry" not in [button.key for button in screen.button]
    screen.button(key="provider").click().run()
    assert [True] == asked


def test_without_a_configured_provider_none_is_offered(open_screens: Opener):
    assert not identity.is_configured()
    assert not open_screens(solo=None).button
