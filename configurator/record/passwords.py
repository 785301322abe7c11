"""Passwords as they are kept: only their Argon2id hash, which takes time and memory to guess."""

from __future__ import annotations

import secrets
import unicodedata
from functools import lru_cache
from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

_HASHER = PasswordHasher()
_AT_ONCE = BoundedSemaphore(2)
"""Each hash takes 64 MiB; a flood of log-ins waits in line and does not fill the memory."""


def hash_password(password: str) -> str:
    """Hash a password for the record.

    Source
    ------
    Argon2id, RFC 9106, with the parameters it recommends where memory is short.

    Examples
    --------
    >>> hash_password("an invented password").startswith("$argon2id$")
    True
    """
    with _AT_ONCE:
        return _HASHER.hash(_normal(password))


def is_password(password: str, kept: str | None) -> bool:
    """Tell whether a password is the one kept; it takes as long when there is none to compare.

    Parameters
    ----------
    password : str
        As typed.
    kept : str or None
        Its hash; None when the name is unknown or has no password.

    Examples
    --------
    >>> is_password("an invented password", hash_password("an invented password"))
    True
    >>> is_password("an invented password", None)
    False
    """
    compared = kept or _nobodys_hash()
    with _AT_ONCE:
        try:
            _HASHER.verify(compared, _normal(password))
        except (VerificationError, InvalidHashError):
            return False
    return kept is not None


def is_outdated(kept: str) -> bool:
    """Tell whether a hash was made with other parameters than today's."""
    return _HASHER.check_needs_rehash(kept)


@lru_cache(maxsize=1)
def _nobodys_hash() -> str:
    return hash_password(secrets.token_urlsafe(32))


def _normal(password: str) -> str:
    # The same letters typed on two keyboards may arrive as different code points.
    return unicodedata.normalize("NFKC", password)
