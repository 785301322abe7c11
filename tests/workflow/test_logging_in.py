from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import argon2
import pytest

from configurator.errors import AccountError
from configurator.record import passwords
from configurator.record.accounts import account_and_hash, has_accounts
from configurator.record.database import Record, open_record
from configurator.workflow import accounts, logging_in

NOW = datetime(2026, 3, 4, 9, 30, tzinfo=UTC)
PASSWORD = "four invented words"  # noqa: S105  it opens nothing but this test


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Record]:
    opened = open_record(tmp_path / "data")
    accounts.add_account(opened, "Ann Sample", ["engineer", "consultant"], PASSWORD, now=NOW)
    yield opened
    opened.engine.dispose()


def _codes(error: pytest.ExceptionInfo[AccountError]) -> list[str]:
    return [fault.code for fault in error.value.faults]


def test_name_and_password_log_in_until_logged_out(record: Record) -> None:
    token = logging_in.log_in(record, "ann sample", PASSWORD, now=NOW)
    sign_in = logging_in.who_is(record, token, NOW)
    assert sign_in is not None
    assert "Ann Sample, consultant" == logging_in.person_of(sign_in).in_words
    logging_in.wear_role(record, token, "engineer")
    sign_in = logging_in.who_is(record, token, NOW)
    assert sign_in is not None
    assert "Ann Sample, engineer" == logging_in.person_of(sign_in).in_words
    with pytest.raises(AccountError) as refused:
        logging_in.wear_role(record, token, "manager")
    assert ["P058"] == _codes(refused)
    assert logging_in.who_is(record, token, NOW + logging_in.LOGGED_IN_FOR) is None
    logging_in.log_out(record, token)
    assert logging_in.who_is(record, token, NOW) is None


def test_a_wrong_name_a_wrong_password_and_a_disabled_account_are_told_in_equal_words(
    record: Record,
) -> None:
    accounts.add_account(record, "Off Duty", ["manager"], PASSWORD, now=NOW)
    accounts.add_account(record, "By Mail", ["manager"], None, identity="m@mail.example", now=NOW)
    accounts.disable(record, "Off Duty")
    told = set()
    for name, password in (
        ("Nobody Known", PASSWORD),
        ("Ann Sample", "another password"),
        ("Off Duty", PASSWORD),
        ("By Mail", ""),
        ("", ""),
    ):
        with pytest.raises(AccountError) as refused:
            logging_in.log_in(record, name, password, now=NOW)
        told.add(str(refused.value))
    assert 1 == len(told)
    assert "[P056]" in told.pop()


def test_an_unknown_name_takes_as_long_as_a_wrong_password(record: Record) -> None:
    def processor_s(name: str, tries: int) -> float:
        taken = []
        for number in range(tries):
            start = time.process_time()
            with pytest.raises(AccountError):
                logging_in.log_in(record, name, "a wrong one", now=NOW + timedelta(hours=number))
            taken.append(time.process_time() - start)
        return min(taken)

    processor_s("Warm Up", 1)
    known, unknown = processor_s("Ann Sample", 5), processor_s("Nobody Known", 5)
    # Without the hash of nobody's password the ratio would be far beyond.
    assert 0.5 < known / unknown < 2.0


def test_failed_log_ins_slow_down_known_and_unknown_names_alike(record: Record) -> None:
    for name in ("Ann Sample", "Nobody Known"):
        codes = []
        for _ in range(5):
            with pytest.raises(AccountError) as refused:
                logging_in.log_in(record, name, "a wrong one", now=NOW)
            codes += _codes(refused)
        assert ["P056"] * 3 + ["P059"] * 2 == codes
    with pytest.raises(AccountError, match="may be made in 4 seconds"):
        logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)
    assert logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW + timedelta(seconds=4))
    assert logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW + timedelta(seconds=4))


def _fail(record: Record, tries: int, **how: str) -> list[str]:
    codes = []
    for _ in range(tries):
        with pytest.raises(AccountError) as refused:
            logging_in.log_in(record, "Ann Sample", "a wrong one", now=NOW, **how)
        codes += _codes(refused)
    return codes


def test_strangers_keep_nobody_out_of_a_browser_they_came_in_from_before(record: Record) -> None:
    # Source: OWASP, "Device cookies" against online guessing, from memory.
    accounts.add_account(record, "Bo Example", ["manager"], PASSWORD, now=NOW)
    mark = logging_in.mark_browser(record, "Ann Sample")
    _fail(record, 4)
    others = logging_in.mark_browser(record, "Bo Example")
    for forged in ("", "x", ".", others, f"{mark[:-1]}{'a' if mark[-1] != 'a' else 'b'}", "é.é"):
        assert ["P059"] == _fail(record, 1, mark=forged), forged
    assert logging_in.log_in(record, "ann  sample", PASSWORD, now=NOW, mark=mark)
    assert ["P059"] == _fail(record, 1), "the strangers wait on"
    assert ["P056"] * 3 + ["P059"] == _fail(record, 4, mark=mark), "and so would a stolen mark"


def test_the_mark_of_a_browser_ends_with_the_password(record: Record) -> None:
    mark = logging_in.mark_browser(record, "Ann Sample")
    accounts.change_password(record, "Ann Sample", "other invented words")
    _fail(record, 3)
    with pytest.raises(AccountError) as refused:
        logging_in.log_in(record, "Ann Sample", "other invented words", now=NOW, mark=mark)
    assert ["P059"] == _codes(refused)


@pytest.mark.parametrize("end", ["password", "enable"])
def test_a_manager_ends_a_wait_at_the_machine(record: Record, end: str) -> None:
    assert ["P056"] * 3 + ["P059"] == _fail(record, 4)
    if end == "password":
        accounts.change_password(record, "Ann Sample", PASSWORD)
    else:
        accounts.enable(record, "Ann Sample")
    assert logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)


def test_strangers_keep_nobody_from_another_password_of_their_own(record: Record) -> None:
    token = logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)
    _fail(record, 4)
    new = "other invented words"
    mark = logging_in.change_own_password(record, token, PASSWORD, new, now=NOW)
    assert logging_in.who_is(record, token, NOW) is None
    assert logging_in.log_in(record, "Ann Sample", new, now=NOW, mark=mark)


def test_guessing_the_password_from_an_open_screen_is_slowed_down(record: Record) -> None:
    token = logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)
    codes = []
    for _ in range(4):
        with pytest.raises(AccountError) as refused:
            logging_in.change_own_password(record, token, "a wrong one", PASSWORD, now=NOW)
        codes += _codes(refused)
    assert ["P056"] * 3 + ["P059"] == codes
    assert logging_in.who_is(record, token, NOW) is not None


def test_the_old_password_lets_nobody_in_while_another_is_being_set(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    def changed_meanwhile(password: str, kept: str | None) -> bool:
        is_right = passwords.is_password(password, kept)
        accounts.change_password(record, "Ann Sample", "other invented words")
        return is_right

    monkeypatch.setattr(logging_in, "is_password", changed_meanwhile)
    with pytest.raises(AccountError) as refused:
        logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)
    assert ["P056"] == _codes(refused)


def test_a_clock_set_back_stretches_no_log_in(record: Record) -> None:
    token = logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)
    assert logging_in.who_is(record, token, NOW - timedelta(minutes=5)) is not None
    assert logging_in.who_is(record, token, NOW - timedelta(days=2)) is None


def test_a_password_is_hashed_anew_when_the_parameters_change(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, before = account_and_hash(record, "Ann Sample")
    stronger = argon2.PasswordHasher(time_cost=4)
    monkeypatch.setattr(passwords, "_HASHER", stronger)
    logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)
    _, after = account_and_hash(record, "Ann Sample")
    assert before is not None
    assert after is not None
    assert (True, False) == (
        stronger.check_needs_rehash(before),
        stronger.check_needs_rehash(after),
    )
    assert logging_in.log_in(record, "Ann Sample", PASSWORD, now=NOW)


def test_an_identity_leads_to_its_account_and_never_makes_one(record: Record) -> None:
    accounts.add_account(record, "By Mail", ["manager"], None, identity="M@mail.example", now=NOW)
    account, token = logging_in.log_in_by_identity(record, ("m@Mail.example", "sub-1"), now=NOW)
    assert "By Mail" == account.name
    assert logging_in.who_is(record, token, NOW) is not None
    for identities in (("x@mail.example",), ("Ann Sample",), ("",), ()):
        with pytest.raises(AccountError) as refused:
            logging_in.log_in_by_identity(record, identities, now=NOW)
        assert ["P057"] == _codes(refused)
    accounts.disable(record, "By Mail")
    with pytest.raises(AccountError):
        logging_in.log_in_by_identity(record, ("m@mail.example",), now=NOW)
    assert 2 == len(accounts.accounts.list_accounts(record))


def test_all_faults_of_an_account_are_told_together(record: Record) -> None:
    with pytest.raises(AccountError) as refused:
        accounts.add_account(record, "\u202e", ["enginer"], "short", now=NOW)
    assert ["P050", "P051", "P052"] == _codes(refused)
    with pytest.raises(AccountError) as refused:
        accounts.add_account(record, "Twelve Letters", [], "twelve LETTERS", now=NOW)
    assert ["P051", "P052"] == _codes(refused)
    with pytest.raises(AccountError) as refused:
        accounts.add_account(record, "New Person", ["engineer"], None, now=NOW)
    assert ["P053"] == _codes(refused)
    with pytest.raises(AccountError) as refused:
        accounts.add_account(record, "ANN SAMPLE", ["engineer"], PASSWORD, now=NOW)
    assert ["P054"] == _codes(refused)


def test_only_the_very_first_account_is_made_without_being_asked_for(record: Record) -> None:
    assert has_accounts(record)
    with pytest.raises(AccountError, match="somebody else made the first account"):
        accounts.add_account(
            record, "New Person", ["manager"], PASSWORD, only_as_first=True, now=NOW
        )


def test_a_name_without_an_account_is_told_with_the_nearest(record: Record) -> None:
    for change in (
        lambda: accounts.give_roles(record, "Ann Simple", ["manager"]),
        lambda: accounts.change_password(record, "Ann Simple", PASSWORD),
        lambda: accounts.disable(record, "Ann Simple"),
        lambda: accounts.enable(record, "Ann Simple"),
    ):
        with pytest.raises(AccountError, match='Did you mean "Ann Sample"'):
            change()


def test_another_password_and_enabling_again_let_in(record: Record) -> None:
    accounts.change_password(record, "Ann Sample", "other invented words")
    accounts.disable(record, "Ann Sample")
    accounts.enable(record, "Ann Sample")
    assert ("engineer",) == accounts.give_roles(record, "Ann Sample", ["engineer"]).roles
    token = logging_in.log_in(record, "Ann Sample", "other invented words", now=NOW)
    assert logging_in.who_is(record, token, NOW) is not None
