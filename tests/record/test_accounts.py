from __future__ import annotations

import sqlite3
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from configurator.record import accounts, sign_ins
from configurator.record.accounts import Account
from configurator.record.database import Record, open_record, reading
from configurator.record.log_in_waits import begin_try, forget_failures
from configurator.record.passwords import hash_password, is_outdated, is_password
from tests.record.older_records import make_older_record

HASH = "$argon2id$v=19$m=8,t=1,p=1$c2FsdHNhbHQ$hash"
Add = Callable[..., Account | None]


@pytest.fixture
def add(record: Record, now: datetime) -> Add:
    def added(name: str = "Ann Sample", *, roles: tuple[str, ...] = ("engineer",), **given: object):
        wanted = {"identity": None, "only_as_first": False, "now": now} | given
        return accounts.add_account(record, name, roles, HASH, **wanted)  # type: ignore[arg-type]

    return added


def test_an_account_reads_back_as_it_was_added(record: Record, add: Add) -> None:
    assert not accounts.has_accounts(record)
    added = add(" Ann   Sample ", roles=("engineer", "manager"), identity="Ann@Mail.Example")
    assert (added,) == accounts.list_accounts(record)
    assert added is not None
    assert ("Ann Sample", ("engineer", "manager")) == (added.name, added.roles)
    assert (True, True) == (added.is_active, added.has_password)
    assert added == accounts.find_by_identity(record, ["ann@mail.example"])
    assert accounts.has_accounts(record)


def test_a_name_or_an_identity_is_one_persons_whatever_the_capitals(add: Add) -> None:
    assert add(identity="ann@mail.example") is not None
    assert add("ann  SAMPLE") is None
    assert add("Other Person", identity="ANN@mail.example") is None
    assert add("Zo\u00eb Sample") is not None
    assert add("zoe\u0308 sample") is None
    assert add("Other Person") is not None


@pytest.mark.parametrize(
    ("kept", "alike"),
    [
        ("mike@mail.example", "mi\u212ae@mail.example"),
        ("gross@mail.example", "gro\u00df@mail.example"),
        ("ann@mail.example", "\uff41nn@mail.example"),
        ("ann@mail.example", "ann @mail.example"),
    ],
)
def test_an_identity_that_only_looks_alike_is_somebody_elses(
    record: Record, add: Add, kept: str, alike: str
) -> None:
    # Source: from memory, CVE-2019-19844: folded capitals made another's address one's own.
    account = add(identity=kept)
    assert account == accounts.find_by_identity(record, [kept.upper()])
    assert accounts.find_by_identity(record, [alike]) is None
    assert add("Other Person", identity=alike) is not None


def test_of_many_who_make_the_first_account_at_once_one_does(record: Record, add: Add) -> None:
    names = [f"Invented {number}" for number in range(6)]
    with ThreadPoolExecutor(6) as pool:
        added = list(pool.map(lambda name: add(name, only_as_first=True), names))
    assert 1 == len([account for account in added if account])
    assert 1 == len(accounts.list_accounts(record))


def test_the_secret_of_a_browser_is_kept_nowhere(record: Record, add: Add, now: datetime) -> None:
    account = add()
    assert account is not None
    until = now + timedelta(hours=1)
    token = sign_ins.start_sign_in(record, account, "engineer", now=now, until=until)
    assert token is not None
    assert 43 == len(token)
    with reading(record) as session:
        kept = str(session.execute(text("SELECT * FROM sign_ins")).all())
    assert token not in kept
    assert account == sign_ins.find_sign_in(record, token, now).account  # type: ignore[union-attr]
    assert sign_ins.find_sign_in(record, token[:-1], now) is None
    assert sign_ins.find_sign_in(record, token, until) is None


def test_a_browser_is_logged_out_by_what_withdraws_its_right(
    record: Record, add: Add, now: datetime
) -> None:
    account = add(roles=("consultant", "engineer"))
    assert account is not None
    until = now + timedelta(hours=1)

    def logged_in() -> str:
        given = sign_ins.start_sign_in(record, account, "engineer", now=now, until=until)
        assert given is not None
        assert sign_ins.find_sign_in(record, given, now) is not None
        return given

    token = logged_in()
    sign_ins.end_sign_in(record, token)
    assert sign_ins.find_sign_in(record, token, now) is None
    token = logged_in()
    accounts.set_password(record, "ann sample", HASH)
    assert sign_ins.find_sign_in(record, token, now) is None
    token = logged_in()
    accounts.set_roles(record, "ann sample", ("consultant",))
    assert sign_ins.find_sign_in(record, token, now) is None
    accounts.set_roles(record, "ann sample", ("engineer",))
    token = logged_in()
    accounts.set_active(record, "ann sample", is_active=False)
    assert sign_ins.find_sign_in(record, token, now) is None
    refused = sign_ins.start_sign_in(record, account, "engineer", now=now, until=until)
    assert refused is None


def test_only_a_role_of_the_account_can_be_worn(record: Record, add: Add, now: datetime) -> None:
    account = add(roles=("consultant", "engineer"))
    assert account is not None
    until = now + timedelta(hours=1)
    token = sign_ins.start_sign_in(record, account, "consultant", now=now, until=until) or ""
    assert sign_ins.wear_role(record, token, "engineer")
    assert "engineer" == sign_ins.find_sign_in(record, token, now).role  # type: ignore[union-attr]
    assert not sign_ins.wear_role(record, token, "manager")
    assert not sign_ins.wear_role(record, "another", "engineer")
    assert sign_ins.start_sign_in(record, account, "manager", now=now, until=until) is None


def test_failed_tries_wait_longer_and_longer_and_a_success_forgets_them(
    record: Record, now: datetime
) -> None:
    clock = now
    assert [0, 0, 0] == [begin_try(record, "nobody  KNOWN", clock) for _ in range(3)]
    assert 4 == begin_try(record, "Nobody Known", clock)
    clock += timedelta(seconds=4)
    assert begin_try(record, "Nobody Known", clock) == 0
    assert 8 == begin_try(record, "Nobody Known", clock)
    assert begin_try(record, "Somebody Else", clock) == 0
    forget_failures(record, "NOBODY known")
    assert begin_try(record, "Nobody Known", clock) == 0


def test_tries_at_the_same_moment_are_all_counted(record: Record, now: datetime) -> None:
    with ThreadPoolExecutor(8) as pool:
        waits = list(pool.map(lambda _: begin_try(record, "Ann Sample", now), range(12)))
    assert 3 == waits.count(0.0)


def test_a_clock_set_back_locks_nobody_out_for_long(record: Record, now: datetime) -> None:
    for _ in range(3):
        begin_try(record, "Ann Sample", now)
    back = now - timedelta(days=400)
    assert 4 == begin_try(record, "Ann Sample", back)
    assert 0 == begin_try(record, "Ann Sample", back + timedelta(seconds=4))
    assert 8 == begin_try(record, "Ann Sample", back + timedelta(seconds=4))


def test_a_password_is_kept_as_a_hash_that_only_it_matches() -> None:
    kept = hash_password("a café of words")
    assert "words" not in kept
    assert is_password("a café of words", kept)
    assert not is_password("a cafe of words", kept)
    assert not is_password("a café of words", "damaged")
    assert not is_outdated(kept)


def test_an_older_record_keeps_its_accounts_and_gains_the_waits(
    tmp_path: Path, now: datetime
) -> None:
    data = tmp_path / "old"
    with sqlite3.connect(make_older_record(data, "book_and_accounts")) as old:
        old.executescript(
            "INSERT INTO accounts VALUES (1, 'Ann Sample', '[\"engineer\"]', 'kept', 1, 0, NULL, "
            "'2026-03-04 09:30:15.000000');"
            "INSERT INTO sign_ins VALUES ('ab', 1, 'engineer', '2026-03-05 09:30:15.000000');"
        )
    record = open_record(data)
    account, kept = accounts.account_and_hash(record, "Ann Sample")
    assert account is not None
    assert ("Ann Sample", "kept") == (account.name, kept)
    assert begin_try(record, "Ann Sample", now) == 0
    record.engine.dispose()
