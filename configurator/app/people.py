"""Who acts at this screen: the person logged in, in the role they wear now."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

import streamlit as st

from configurator.app import session
from configurator.app.premises import now, record
from configurator.build_life.people import Person
from configurator.catalog.models.workshop import RoleId
from configurator.workflow import accounts, logging_in

SOLO_ROLE: RoleId = "manager"


def acting() -> Person:
    """Tell who acts: the person logged in, or the one person of a workshop worked alone.

    It is looked up anew each time, so that whoever is logged out can do nothing more. A screen
    passes it on as `by=`; the steps of the work decide what that person may do.

    Raises
    ------
    AccountError
        If nobody is logged in (any more).
    """
    person = here()
    if person is None:
        raise logging_in.logged_out()
    return person


def here() -> Person | None:
    """Tell who is at this screen; None for somebody who must log in first."""
    alone = alone_here(session.role_alone() or SOLO_ROLE)
    return logging_in.who_acts(record(), session.cookie(cookie_name()), alone=alone, now=now())


def roles_here() -> tuple[RoleId, ...]:
    """List the roles that whoever is at this screen may wear."""
    token = session.cookie(cookie_name())
    sign_in = logging_in.who_is(record(), token, now()) if token else None
    return accounts.ROLES if sign_in is None else sign_in.account.roles


def wear(role: RoleId) -> None:
    """Put on another role.

    Raises
    ------
    AccountError
        If it is none of the account's, or nobody is logged in any more.
    """
    token = session.cookie(cookie_name())
    if acting().is_solo:
        session.wear_alone(role)
    else:
        logging_in.wear_role(record(), token or "", role)


def alone_here(role: RoleId = SOLO_ROLE) -> Person | None:
    """Name who works here alone, if the screens were started so."""
    name = solo_name(sys.argv[1:])
    return None if name is None else Person(name=name, role=role, is_solo=True)


def cookie_name() -> str:
    """Name the cookie, for browsers share cookies between the ports of a machine."""
    return f"workshop-{st.get_option('server.port')}"


def solo_name(arguments: Sequence[str]) -> str | None:
    """Read from the command line who works alone here.

    Examples
    --------
    >>> solo_name(["--catalog", "mine", "--solo", "A. Sample"])
    'A. Sample'
    >>> solo_name([]) is None
    True
    """
    parser = argparse.ArgumentParser(add_help=False, allow_abbrev=False)
    parser.add_argument("--solo")
    known, _ = parser.parse_known_args(list(arguments))
    return (known.solo or "").strip() or None
