"""Browsers that are logged in; of their secret only the SHA-256 is kept."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime
from typing import cast

from sqlalchemy import delete

from configurator.catalog.models.workshop import RoleId
from configurator.record.accounts import Account, as_account
from configurator.record.database import Record, reading, writing
from configurator.record.tables import AccountRow, SignInRow

TOKEN_BYTES = 32


@dataclass(frozen=True)
class SignIn:
    """A browser that is logged in."""

    account: Account
    role: RoleId
    """The hat worn now."""
    until: datetime
    """Aware, UTC."""


def start_sign_in(
    record: Record,
    account: Account,
    role: RoleId,
    *,
    password_hash: str | None = None,
    now: datetime,
    until: datetime,
) -> str | None:
    """Log a browser in.

    Parameters
    ----------
    record : Record
        The open record.
    account : Account
        Whose it is.
    role : RoleId
        The hat worn at first.
    password_hash : str, optional
        What the password was held against; nobody comes in once another is set.
    now, until : datetime
        Aware, UTC; those past their time are swept away.

    Returns
    -------
    str or None
        The secret for the browser's cookie, known to nobody else; None if the account may not log
        in any more.
    """
    token = secrets.token_urlsafe(TOKEN_BYTES)
    with writing(record) as session:
        session.execute(delete(SignInRow).where(SignInRow.until <= now))
        # Whoever sets another password meanwhile waits, and then logs this browser out as well.
        row = session.get(AccountRow, account.id, with_for_update=True)
        if row is None or not row.is_active or role not in row.roles:
            return None
        if password_hash is not None and row.password_hash != password_hash:
            return None
        key = _sha256(token)
        session.add(SignInRow(token_sha256=key, account_id=row.id, role=role, until=until))
    return token


def find_sign_in(record: Record, token: str, now: datetime) -> SignIn | None:
    """Tell who is logged in with a secret; None when it is unknown, past its time or withdrawn."""
    with reading(record) as session:
        row = session.get(SignInRow, _sha256(token))
        if row is None or row.until <= now:
            return None
        account = session.get(AccountRow, row.account_id)
        if account is None or not account.is_active or row.role not in account.roles:
            return None
        return SignIn(as_account(account), cast("RoleId", row.role), row.until)


def wear_role(record: Record, token: str, role: RoleId) -> bool:
    """Change the hat, if the account has it; tells whether it did."""
    with writing(record) as session:
        row = session.get(SignInRow, _sha256(token))
        account = None if row is None else session.get(AccountRow, row.account_id)
        if row is None or account is None or role not in account.roles:
            return False
        row.role = role
    return True


def end_sign_in(record: Record, token: str) -> None:
    """Log a browser out."""
    with writing(record) as session:
        session.execute(delete(SignInRow).where(SignInRow.token_sha256 == _sha256(token)))


def _sha256(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
