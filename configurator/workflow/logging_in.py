"""Log in and out, and tell who is logged in."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from configurator.build_life.people import Person
from configurator.catalog.models.workshop import RoleId
from configurator.errors import AccountError, Fault
from configurator.record import sign_ins
from configurator.record.accounts import (
    Account,
    account_and_hash,
    find_by_identity,
    has_accounts,
    renew_hash,
)
from configurator.record.database import Record
from configurator.record.known_browsers import is_marked, mark_for
from configurator.record.log_in_waits import begin_try, forget_failures
from configurator.record.passwords import hash_password, is_outdated, is_password
from configurator.record.sign_ins import SignIn
from configurator.workflow.accounts import change_password

LOGGED_IN_FOR = timedelta(hours=12)
COME_IN_WITHIN = timedelta(minutes=10)
"""A secret that a page shows is exchanged by then for the browser's own."""
LONGEST_TYPED = 1000


def log_in(record: Record, name: str, password: str, *, now: datetime, mark: str = "") -> str:
    """Log somebody in by name and password.

    Parameters
    ----------
    record : Record
        The open record.
    name, password : str
        As typed.
    now : datetime
        Aware, UTC.
    mark : str
        Of a browser from which this person logged in before: its failed tries are counted apart,
        so that strangers who try the name keep nobody out.

    Returns
    -------
    str
        The secret for the browser's cookie.

    Raises
    ------
    AccountError
        In equal words, and after equal time, whether the name or the password is wrong or the
        account is disabled; or if the name has to wait after failed tries.
    """
    name = name[:LONGEST_TYPED]
    _, kept = account_and_hash(record, name)
    counted_as = f"{name} {mark}" if is_marked(mark, name, kept) else name
    account, kept = _try(record, name, password, counted_as=counted_as, now=now)
    token = _let_in(record, account, now, kept)
    if token is None:
        raise AccountError([_wrong()])
    if is_outdated(kept):
        renew_hash(record, account.id, kept, hash_password(password))
    return token


def mark_browser(record: Record, name: str) -> str:
    """Make a mark for a browser from which somebody has just logged in by password."""
    _, kept = account_and_hash(record, name)
    return "" if kept is None else mark_for(name, kept)


def log_in_by_identity(
    record: Record, identities: tuple[str, ...], *, now: datetime
) -> tuple[Account, str]:
    """Log somebody in whom an identity provider has confirmed, with a secret to `exchange` soon.

    Parameters
    ----------
    record : Record
        The open record.
    identities : tuple of str
        By which the provider knows the person: a confirmed e-mail address, a lasting identifier.
    now : datetime
        Aware, UTC.

    Raises
    ------
    AccountError
        If no account has that identity; none is made here.
    """
    account = find_by_identity(record, identities)
    token = None if account is None else _let_in(record, account, now, lasts=COME_IN_WITHIN)
    if account is None or token is None:
        known_as = identities[0][:80] if identities else "nobody"
        what = f'the identity provider knows you as "{known_as}", which no account here has'
        remedy = "Ask the manager to add it with `configurator accounts add … --identity`."
        raise AccountError([Fault("P057", "Log in", what, remedy)])
    return account, token


def exchange(record: Record, token: str, *, now: datetime) -> str | None:
    """Exchange a secret that a page showed for one that only the browser's cookie holds.

    Returns
    -------
    str or None
        None if the one shown counts for nothing (any more).
    """
    sign_in = who_is(record, token, now)
    if sign_in is None:
        return None
    log_out(record, token)
    return _let_in(record, sign_in.account, now)


def who_is(record: Record, token: str, now: datetime) -> SignIn | None:
    """Tell who is logged in with a secret; None when it counts for nothing (any more)."""
    sign_in = sign_ins.find_sign_in(record, token, now)
    # A clock that was set back must not stretch a log-in.
    is_far_ahead = sign_in is not None and sign_in.until - now > 2 * LOGGED_IN_FOR
    return None if is_far_ahead else sign_in


def who_acts(
    record: Record, token: str | None, *, alone: Person | None, now: datetime
) -> Person | None:
    """Tell who acts from a browser.

    Parameters
    ----------
    record : Record
        The open record.
    token : str or None
        The secret of the browser's cookie.
    alone : Person or None
        Who works here alone, if the screens were started so; counts only while nobody has an
        account.
    now : datetime
        Aware, UTC.

    Returns
    -------
    Person or None
        None for somebody who must log in first.
    """
    sign_in = who_is(record, token, now) if token else None
    if sign_in is not None:
        return person_of(sign_in)
    return None if has_accounts(record) else alone


def change_own_password(
    record: Record, token: str, before: str, after: str, *, now: datetime
) -> str:
    """Change one's own password, knowing the one until now; one logs in anew with it.

    Returns
    -------
    str
        The mark with which this browser logs in anew.

    Raises
    ------
    AccountError
        If the browser is not logged in, the password until now is wrong, or the other too short.
    """
    sign_in = who_is(record, token, now)
    if sign_in is None:
        raise logged_out()
    name = sign_in.account.name
    _try(record, name, before, counted_as=f"{name} {token}", now=now)
    change_password(record, name, after)
    return mark_browser(record, name)


def person_of(sign_in: SignIn) -> Person:
    """Name who acts: the account, in the role worn now."""
    return Person(name=sign_in.account.name, role=sign_in.role)


def wear_role(record: Record, token: str, role: RoleId) -> None:
    """Change the role worn.

    Raises
    ------
    AccountError
        If the account does not have it, or is not logged in any more.
    """
    if not sign_ins.wear_role(record, token, role):
        what = f"the role {role.replace('-', ' ')} is not one of yours, or you are logged out"
        raise AccountError([_not_in_that_role(what)])


def log_out(record: Record, token: str) -> None:
    """Log a browser out; its secret counts for nothing from now on."""
    sign_ins.end_sign_in(record, token)


def _try(
    record: Record, name: str, password: str, *, counted_as: str, now: datetime
) -> tuple[Account, str]:
    """Hold a password against the one kept, unless those counted together have to wait."""
    if (wait_s := begin_try(record, counted_as, now)) > 0:
        raise AccountError([_too_many(wait_s)])
    account, kept = account_and_hash(record, name)
    is_right = is_password(password[:LONGEST_TYPED], kept)
    if account is None or kept is None or not is_right or not account.is_active:
        raise AccountError([_wrong()])
    forget_failures(record, counted_as)
    return account, kept


def _let_in(
    record: Record,
    account: Account,
    now: datetime,
    password_hash: str | None = None,
    lasts: timedelta = LOGGED_IN_FOR,
) -> str | None:
    return sign_ins.start_sign_in(
        record,
        account,
        account.roles[0],
        password_hash=password_hash,
        now=now,
        until=now + lasts,
    )


def logged_out() -> AccountError:
    """Say that nobody is logged in any more."""
    return AccountError([_not_in_that_role("you are logged out")])


def _not_in_that_role(what: str) -> Fault:
    return Fault("P058", "Log in", what, "Load the page again.")


def _wrong() -> Fault:
    what = "name and password do not go together, or the account is disabled"
    remedy = "Try again, or ask the manager; after several tries you have to wait."
    return Fault("P056", "Log in", what, remedy)


def _too_many(wait_s: float) -> Fault:
    left = math.ceil(wait_s)
    long = f"{left} seconds" if left <= 90 else f"{math.ceil(left / 60)} minutes"
    what = f"there were several tries with this name that failed; the next may be made in {long}"
    return Fault("P059", "Log in", what, "Wait, then try again.")
