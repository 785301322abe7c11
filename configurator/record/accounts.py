"""Who may log in; passwords are kept as hashes alone, and accounts are never removed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import cast

from sqlalchemy import delete, exists, select, text
from sqlalchemy.orm import Session

from configurator.build_life.people import same_name
from configurator.catalog.models.workshop import RoleId
from configurator.record.database import Record, reading, writing
from configurator.record.tables import AccountRow, SignInRow

ACCOUNTS_LOCK = 7_204_502
"""Of PostgreSQL: who holds it adds accounts; SQLite has one writer at a time anyway."""


@dataclass(frozen=True)
class Account:
    """Somebody who may log in, as others may see it."""

    id: int
    name: str
    roles: tuple[RoleId, ...]
    is_active: bool
    has_password: bool
    identity: str | None


def same_identity(identity: str) -> str:
    """Fold what an identity provider knows somebody by: capitals of ASCII and nothing else.

    More would make one out of two addresses that only look alike.

    Examples
    --------
    >>> same_identity(" Ann@Mail.example ")
    'ann@mail.example'
    """
    return "".join(each.lower() if each.isascii() else each for each in identity.strip())


def has_accounts(record: Record) -> bool:
    """Tell whether anybody ever had an account here, disabled or not."""
    with reading(record) as session:
        return bool(session.scalar(select(exists().where(AccountRow.id.is_not(None)))))


def list_accounts(record: Record) -> tuple[Account, ...]:
    """Read all accounts, in the order of their names."""
    with reading(record) as session:
        rows = session.scalars(select(AccountRow))
        return tuple(sorted(map(as_account, rows), key=lambda account: same_name(account.name)))


def find_by_identity(record: Record, identities: Sequence[str]) -> Account | None:
    """Find the active account of somebody whom an identity provider knows."""
    wanted = {same_identity(identity) for identity in identities if identity.strip()}
    with reading(record) as session:
        rows = session.scalars(select(AccountRow).where(AccountRow.identity.in_(wanted)))
        found = [as_account(row) for row in rows if row.is_active]
    return found[0] if len(found) == 1 else None


def add_account(
    record: Record,
    name: str,
    roles: Sequence[RoleId],
    password_hash: str | None,
    *,
    identity: str | None,
    only_as_first: bool,
    now: datetime,
) -> Account | None:
    """Add an account.

    Parameters
    ----------
    record : Record
        The open record.
    name : str
        Printed under what the person signs.
    roles : sequence of RoleId
        The hats they may wear.
    password_hash : str or None
        None for somebody who comes in through an identity provider alone.
    identity : str or None
        How the identity provider knows them.
    only_as_first : bool
        Add nothing once there is any account.
    now : datetime
        Aware, UTC.

    Returns
    -------
    Account or None
        None if the name or the identity is taken, or another account was first.
    """
    identity = same_identity(identity) if identity else None
    with writing(record) as session:
        _take_turn(session)
        others = list(session.scalars(select(AccountRow)))
        taken = any(same_name(other.name) == same_name(name) for other in others)
        known = identity is not None and any(other.identity == identity for other in others)
        if taken or known or (only_as_first and others):
            return None
        row = AccountRow(
            name=" ".join(name.split()),
            roles=list(roles),
            password_hash=password_hash,
            identity=identity,
            is_active=True,
            made_at=now,
        )
        session.add(row)
        session.flush()
        return as_account(row)


def set_roles(record: Record, name: str, roles: Sequence[RoleId]) -> Account | None:
    """Give an account other roles; a browser that wears one no longer given is logged out."""
    with writing(record) as session:
        row = row_named(session, name)
        if row is None:
            return None
        row.roles = list(roles)
        session.execute(
            delete(SignInRow).where(
                SignInRow.account_id == row.id, SignInRow.role.not_in(list(roles))
            )
        )
        return as_account(row)


def set_password(record: Record, name: str, password_hash: str) -> Account | None:
    """Keep another password; every browser of the account is logged out."""
    with writing(record) as session:
        row = row_named(session, name)
        if row is None:
            return None
        row.password_hash = password_hash
        _log_out_everywhere(session, row)
        return as_account(row)


def renew_hash(record: Record, account_id: int, before: str, after: str) -> None:
    """Keep the same password under today's parameters, unless it was changed meanwhile."""
    with writing(record) as session:
        row = session.get(AccountRow, account_id)
        if row is not None and row.password_hash == before:
            row.password_hash = after


def set_active(record: Record, name: str, *, is_active: bool) -> Account | None:
    """Let an account in, or keep it out from now on and log out its browsers."""
    with writing(record) as session:
        row = row_named(session, name)
        if row is None:
            return None
        row.is_active = is_active
        if not is_active:
            _log_out_everywhere(session, row)
        return as_account(row)


def account_and_hash(record: Record, name: str) -> tuple[Account | None, str | None]:
    """Read an account with its password hash, for nothing but comparing."""
    with reading(record) as session:
        row = row_named(session, name)
        return (None, None) if row is None else (as_account(row), row.password_hash)


def row_named(session: Session, name: str) -> AccountRow | None:
    """Find an account by its name, whatever the capitals."""
    for row in session.scalars(select(AccountRow)):
        if same_name(row.name) == same_name(name):
            return row
    return None


def as_account(row: AccountRow) -> Account:
    """Read a row as others may see it."""
    return Account(
        id=row.id,
        name=row.name,
        roles=cast("tuple[RoleId, ...]", tuple(row.roles)),
        is_active=row.is_active,
        has_password=row.password_hash is not None,
        identity=row.identity,
    )


def _log_out_everywhere(session: Session, row: AccountRow) -> None:
    session.execute(delete(SignInRow).where(SignInRow.account_id == row.id))


def _take_turn(session: Session) -> None:
    if session.get_bind().dialect.name == "postgresql":
        session.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": ACCOUNTS_LOCK})
