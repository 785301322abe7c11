"""The day on which a customer or the workshop signed a paper."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from configurator.build_spec.days import day_in_words
from configurator.errors import Fault, LifeError

_REMEDY = "Write the day on which it was signed."


def signature_day_faults(
    where: str, signed_on: date, given_on: date, today: date
) -> Iterator[Fault]:
    """Tell what keeps a paper from having been signed on a day.

    Parameters
    ----------
    where : str
        Name of the paper, such as `Q1`.
    signed_on : date
        The day of the signature.
    given_on : date
        The day on which the paper was written.
    today : date
        The day it is asked.
    """
    if signed_on < given_on:
        what = f"it was given on {day_in_words(given_on)} and cannot have been signed before"
        yield Fault("P067", where, what, _REMEDY)
    if signed_on > today:
        what = f"the day of the signature, {day_in_words(signed_on)}, is still to come"
        yield Fault("P065", where, what, _REMEDY)


def refuse_other_days(where: str, signed_on: date, given_on: date, today: date) -> None:
    """Refuse a day on which a paper cannot have been signed; as `signature_day_faults`.

    Raises
    ------
    LifeError
        If it is before the paper was given, or still to come.
    """
    if faults := [*signature_day_faults(where, signed_on, given_on, today)]:
        raise LifeError(faults)
