"""Accounts of the people who work here."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import get_args

from configurator.build_life.people import LONGEST_NAME, same_name
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.workshop import RoleId
from configurator.errors import AccountError, Fault
from configurator.record import accounts
from configurator.record.accounts import Account
from configurator.record.database import Record
from configurator.record.log_in_waits import forget_failures
from configurator.record.passwords import hash_password

ROLES: tuple[RoleId, ...] = get_args(RoleId)
SHORTEST_PASSWORD = 12
LONGEST_PASSWORD = 1000


def add_account(
    record: Record,
    name: str,
    roles: Sequence[str],
    password: str | None,
    *,
    identity: str | None = None,
    only_as_first: bool = False,
    now: datetime,
) -> Account:
    """Let somebody log in from now on.

    Parameters
    ----------
    record : Record
        The open record.
    name : str
        Typed at the log-in and printed under what the person signs.
    roles : sequence of str
        The hats they may wear.
    password : str or None
        None for somebody who comes in through an identity provider alone.
    identity : str, optional
        The e-mail address, or the lasting identifier, by which the provider knows them.
    only_as_first : bool
        Refuse once there is any account.
    now : datetime
        Aware, UTC.

    Raises
    ------
    AccountError
        With every fault of what was given.
    """
    name = " ".join(name.split())
    faults = [*name_faults(name), *_role_faults(roles)]
    if password is not None:
        faults += _password_faults(password, name)
    elif not (identity or "").strip():
        what = "the account would have neither a password nor an identity, so nobody could use it"
        faults.append(Fault("P053", name or "Account", what, "Give one of the two."))
    if faults:
        raise AccountError(faults)
    added = accounts.add_account(
        record,
        name,
        _in_order(roles),
        None if password is None else hash_password(password),
        identity=(identity or "").strip()[:200] or None,
        only_as_first=only_as_first,
        now=now,
    )
    if added is None:
        raise AccountError([_taken(name, only_as_first=only_as_first)])
    return added


def give_roles(record: Record, name: str, roles: Sequence[str]) -> Account:
    """Give an account other roles than before.

    Raises
    ------
    AccountError
        If there is no such account or role.
    """
    if faults := _role_faults(roles):
        raise AccountError(faults)
    return _found(record, name, accounts.set_roles(record, name, _in_order(roles)))


def change_password(record: Record, name: str, password: str) -> Account:
    """Set another password; all browsers of the account are logged out.

    Raises
    ------
    AccountError
        If there is no such account, or the password is too short.
    """
    if faults := _password_faults(password, name):
        raise AccountError(faults)
    forget_failures(record, name)
    return _found(record, name, accounts.set_password(record, name, hash_password(password)))


def disable(record: Record, name: str) -> Account:
    """Keep an account out from now on; what the person signed keeps standing.

    Raises
    ------
    AccountError
        If there is no such account.
    """
    return _found(record, name, accounts.set_active(record, name, is_active=False))


def enable(record: Record, name: str) -> Account:
    """Let a disabled account in again, or one that waits after failed log-ins.

    Raises
    ------
    AccountError
        If there is no such account.
    """
    forget_failures(record, name)
    return _found(record, name, accounts.set_active(record, name, is_active=True))


def anybody_has_one(record: Record) -> bool:
    """Tell whether anybody ever had an account here, disabled or not."""
    return accounts.has_accounts(record)


def name_faults(name: str) -> list[Fault]:
    """Tell why a name cannot stand under a signature; nothing when it can.

    Examples
    --------
    >>> name_faults("Ann Sample"), [fault.code for fault in name_faults(" ")]
    ([], ['P050'])
    """
    if name.strip() and len(name) <= LONGEST_NAME and name.isprintable():
        return []
    what = f"the name must have 1 to {LONGEST_NAME} characters that can be printed"
    return [Fault("P050", "Name", what, "Write the name as it stands under a signature.")]


def _role_faults(roles: Sequence[str]) -> list[Fault]:
    if not roles:
        what = "an account needs at least one role"
        return [Fault("P051", "Roles", what, f"Choose among {', '.join(ROLES)}.")]
    return [
        Fault("P051", "Roles", f'there is no role "{role[:40]}"', did_you_mean(role, ROLES))
        for role in roles
        if role not in ROLES
    ]


def _password_faults(password: str, name: str) -> list[Fault]:
    if not SHORTEST_PASSWORD <= len(password) <= LONGEST_PASSWORD:
        what = f"it must have {SHORTEST_PASSWORD} to {LONGEST_PASSWORD} characters"
        remedy = "Several words are easy to keep in mind; any characters will do."
        return [Fault("P052", "Password", what, remedy)]
    if same_name(password) == same_name(name):
        what = "it is the name itself, which others know"
        return [Fault("P052", "Password", what, "Choose words that nobody knows.")]
    return []


def _in_order(roles: Sequence[str]) -> tuple[RoleId, ...]:
    return tuple(role for role in ROLES if role in roles)


def _taken(name: str, *, only_as_first: bool) -> Fault:
    if only_as_first:
        what = "somebody else made the first account a moment before"
        return Fault("P054", "Accounts", what, "Log in, or ask the manager for an account.")
    what = f'the name "{name}", or the identity, has an account already'
    return Fault("P054", "Accounts", what, "Take another name, or change the account there is.")


def _found(record: Record, name: str, account: Account | None) -> Account:
    if account is not None:
        return account
    remedy = did_you_mean(name, [known.name for known in accounts.list_accounts(record)])
    what = f'nobody called "{name[:60]}" has an account'
    raise AccountError([Fault("P055", "Accounts", what, remedy)])
