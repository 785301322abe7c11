"""What somebody sees whom the gate let through, yet who is not logged in."""

from __future__ import annotations

from typing import Any, cast

import streamlit as st

from configurator.app import frame, identity, session
from configurator.app.markup import tag, text
from configurator.app.premises import now, record
from configurator.app.view_models.faults import fault_lines
from configurator.errors import AccountError
from configurator.workflow import logging_in

UNKNOWN = "The identity provider knows you, the workshop does not"


def show() -> None:
    """Lead to the log-in, or through the identity provider."""
    frame.heading("Log in", "Nobody is logged in at this screen, so it shows no build.")
    if identity.is_configured():
        _through_the_provider()
    st.html(tag("p", tag("a", text("Log in with name and password"), href="/account/log-in")))


def _through_the_provider() -> None:
    claims = cast("dict[str, Any]", st.user.to_dict())
    if not identity.holds_still(claims, now()):
        if st.button("Log in through the identity provider", key="provider", type="primary"):
            st.login()
        return
    try:
        name, token = _confirmed(claims)
    except AccountError as error:
        frame.show_faults(UNKNOWN, fault_lines(error))
        if st.button("Log in as somebody else", key="provider-out"):
            st.logout()
        return
    _come_in(name, token)


def _confirmed(claims: dict[str, Any]) -> tuple[str, str]:
    known = session.entering()
    if known is None or logging_in.who_is(record(), known[1], now()) is None:
        account, token = logging_in.log_in_by_identity(
            record(), identity.identities(claims), now=now()
        )
        known = (account.name, token)
        session.note_entering(*known)
    return known


def _come_in(name: str, token: str) -> None:
    """Let the browser fetch its cookie, which only an answer to a request can set."""
    secret = f'<input type="hidden" name="token" value="{text(token)}">'
    button = tag("button", text(f"Come in as {name}"), type="submit", class_="come-in")
    st.html(tag("form", secret, button, action="/account/enter", method="post"))
