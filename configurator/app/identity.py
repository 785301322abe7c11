"""An identity provider, if the workshop has one configured: OpenID Connect through Streamlit."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from importlib.util import find_spec

import streamlit as st

COOKIES = "_streamlit_user"


def is_configured() -> bool:
    """Tell whether `.streamlit/secrets.toml` names a provider, and what asks it is installed."""
    is_installed = all(find_spec(library) for library in ("authlib", "httpx"))
    return is_installed and st.secrets.load_if_toml_exists() and "auth" in st.secrets


def holds_still(claims: Mapping[str, object], now: datetime) -> bool:
    """Tell whether what a provider said of a person counts still; then nobody need ask it again.

    Source
    ------
    OpenID Connect Core 1.0, 2: each ID token has `exp` [s since 1970], and none counts after it.

    Examples
    --------
    >>> from datetime import UTC
    >>> holds_still({"is_logged_in": True, "exp": 60}, datetime.fromtimestamp(59, UTC))
    True
    """
    until = claims.get("exp")
    is_later = isinstance(until, int | float) and until > now.timestamp()
    return bool(claims.get("is_logged_in")) and is_later


def identities(claims: Mapping[str, object]) -> tuple[str, ...]:
    """Read by what the provider knows a person, for finding the account.

    A name is not among it: at many providers people write their own.

    Parameters
    ----------
    claims : mapping
        What the provider says of the person.

    Returns
    -------
    tuple of str
        The e-mail address if the provider says that it is confirmed, and the lasting identifier
        unless it reads as an address, which it would then stand for unconfirmed.

    Examples
    --------
    >>> identities({"email": "ann@mail.example", "email_verified": True, "sub": "7", "name": "Bo"})
    ('ann@mail.example', '7')
    >>> identities({"email": "ann@mail.example", "sub": "7"})
    ('7',)
    >>> identities({"sub": "ann@mail.example"})
    ()
    """
    is_confirmed = claims.get("email_verified") in {True, "true", "True"}
    email, lasting = claims.get("email") if is_confirmed else None, claims.get("sub")
    found = [email, None if "@" in str(lasting) else lasting]
    return tuple(claim for claim in found if isinstance(claim, str) and claim.strip())
