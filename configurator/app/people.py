"""Who acts at this screen: the person logged in, in the role they wear now."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from configurator.app import session
from configurator.build_life.people import Person
from configurator.catalog.models.workshop import RoleId

ALONE = "The workshop"
SOLO_ROLE: RoleId = "manager"


def acting() -> Person:
    """Tell who acts: the person logged in, or the one person of a workshop worked alone.

    A screen passes it on as `by=`; the steps of the work decide what that person may do.
    """
    logged_in = session.person()
    return alone(solo_name(sys.argv[1:]) or ALONE) if logged_in is None else logged_in


def alone(name: str, role: RoleId = SOLO_ROLE) -> Person:
    """Make the one person who keeps this record.

    Examples
    --------
    >>> alone("A. Sample").in_words
    'A. Sample, manager, alone in this workshop'
    """
    return Person(name=name, role=role, is_solo=True)


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
