"""On which days something can have been measured on a finished vehicle."""

from __future__ import annotations

from datetime import date

from configurator.build_life.entries import SpecIssued
from configurator.build_life.life import Life
from configurator.build_spec.days import day_in_words
from configurator.errors import Fault


def measuring_day_faults(life: Life, where: str, measured_on: date, today: date) -> list[Fault]:
    """Find what stands against a day of measurement.

    Parameters
    ----------
    life : Life
        Of the build; its first issued spec tells from when on something can be measured.
    where : str
        What was measured.
    measured_on, today : date
        The day that is named, and the day it is written down.

    Returns
    -------
    list of Fault
        L007 before any spec is issued, L020 before the first one, L021 for a day to come.
    """
    first = next((entry for entry in life.entries if isinstance(entry.body, SpecIssued)), None)
    if first is None:
        what = "no spec is issued yet, so nothing tells what the vehicle needs"
        return [Fault("L007", where, what, "Issue the spec first.")]
    told, issued_on = day_in_words(measured_on), first.made_at.date()
    if measured_on < issued_on:
        what = f"the day, {told}, is before the first spec was issued, {day_in_words(issued_on)}"
        return [Fault("L020", where, what, "Name the day on which it was measured.")]
    if measured_on > today:
        what = f"the day, {told}, is still to come"
        return [Fault("L021", where, what, "Write it down on the day itself.")]
    return []
