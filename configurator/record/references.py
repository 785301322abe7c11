"""Allot the references of builds, counted up from B-0001."""

from __future__ import annotations

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from configurator.errors import Fault, RecordError
from configurator.record.tables import BuildRow

LAST_NUMBER = 999_999


def reference_of(number: int) -> str:
    """Write a build's number as its reference.

    Examples
    --------
    >>> reference_of(7), reference_of(12345)
    ('B-0007', 'B-12345')
    """
    return f"B-{number:04d}"


def number_of(reference: str) -> int:
    """Read a build's number from its reference.

    Examples
    --------
    >>> number_of("B-0007")
    7
    """
    return int(reference.removeprefix("B-"))


def next_number(session: Session, wished: str | None, where: str) -> int:
    """Find the number for a new build: the wished one while it is free, else one more than all.

    Raises
    ------
    RecordError
        If the last number is taken.
    """
    if wished is not None and _is_free(session, number_of(wished)):
        return number_of(wished)
    number = (session.scalar(select(func.max(BuildRow.number))) or 0) + 1
    if number <= LAST_NUMBER:
        return number
    raise RecordError(
        [
            Fault(
                "R011",
                where,
                f"the last build reference, {reference_of(LAST_NUMBER)}, is taken",
                "Start a new record in another folder with --data.",
            )
        ]
    )


def _is_free(session: Session, number: int) -> bool:
    found = session.scalar(select(BuildRow.id).where(BuildRow.number == number))
    return number > 0 and found is None
