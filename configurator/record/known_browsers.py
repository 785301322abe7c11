"""Browsers from which somebody logged in before: strangers' failed tries do not hold them up."""

from __future__ import annotations

import hmac
import secrets

from configurator.build_life.people import same_name


def mark_for(name: str, kept: str) -> str:
    """Make a mark for a browser from which somebody has just logged in.

    Parameters
    ----------
    name : str
        Of the account.
    kept : str
        The hash of its password: with another password the mark counts for nothing.

    Examples
    --------
    >>> is_marked(mark_for("Ann Sample", "a hash"), "ann sample", "a hash")
    True
    """
    number = secrets.token_hex(16)
    return f"{number}.{_proof(number, name, kept)}"


def is_marked(mark: str, name: str, kept: str | None) -> bool:
    """Tell whether a browser brought a mark that was made for this account.

    Examples
    --------
    >>> is_marked("made up", "Ann Sample", "a hash"), is_marked("", "Ann Sample", None)
    (False, False)
    """
    number, _, proof = mark.partition(".")
    expected = _proof(number, name, kept or "")
    is_right = hmac.compare_digest(proof.encode("utf-8", "replace"), expected.encode())
    return is_right and kept is not None


def _proof(number: str, name: str, kept: str) -> str:
    told = f"known browser\n{number}\n{same_name(name)}".encode("utf-8", "surrogatepass")
    return hmac.new(kept.encode(), told, "sha256").hexdigest()
