"""Read the life of a build for the screens."""

from __future__ import annotations

from configurator.build_life.life import Life
from configurator.record.book import read_life
from configurator.workflow.premises import Premises


def life_of(premises: Premises, reference: str) -> Life:
    """Read what happened to a build, from its book.

    Raises
    ------
    RecordError
        If there is no such build.
    """
    return read_life(premises.record, reference)
