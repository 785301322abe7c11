"""What a measurement may be; everything impossible in one set of inputs is said together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from configurator.errors import Fault, MeasurementError


@dataclass(frozen=True)
class Bound:
    """What must hold for a number, or for each number of an array."""

    code: str
    must: str
    holds: Callable[[Any], Any]


FINITE = Bound("M001", "it must be a finite number", np.isfinite)
POSITIVE = Bound("M002", "it must be above zero", lambda value: value > 0)
NOT_NEGATIVE = Bound("M003", "it must not be negative", lambda value: value >= 0)
EFFICIENCY = Bound(
    "M004", "it must be above 0 and at most 1", lambda value: (value > 0) & (value <= 1)
)
SHARE = Bound("M005", "it must be between 0 and 1", lambda value: (value >= 0) & (value <= 1))
PERCENT = Bound("M006", "it must be between 0 and 100", lambda value: (value >= 0) & (value <= 100))
TEMPERATURE = Bound(
    "M007",
    "it must be between -60 and 60 degrees Celsius",
    lambda value: (value >= -60) & (value <= 60),
)
ALTITUDE = Bound(
    "M008",
    "it must be between -1000 and 11000 m, where the standard atmosphere has one gradient",
    lambda value: (value >= -1000) & (value <= 11000),
)
CORRELATION = Bound(
    "M019", "a correlation is between -1 and 1", lambda value: (value >= -1) & (value <= 1)
)
PHASES = Bound("M017", "a supply has 1 or 3 phases", lambda value: (value == 1) | (value == 3))

Checks = Mapping[str, tuple[Any, Bound]]
"""Name of a measurement with its unit → its value, or an array of values, and its bound."""


def measurement_fault(where: str, name: str, value: object, bound: Bound) -> Fault:
    """Say that a measurement is impossible.

    Parameters
    ----------
    where : str
        The computation or the thing measured.
    name : str
        The measurement with its unit.
    value : object
        What was given.
    bound : Bound
        What must hold.

    Returns
    -------
    Fault
        With the code of the bound.

    Examples
    --------
    >>> print(measurement_fault("axle loads", "wheelbase_m", 0.0, POSITIVE))
    axle loads: wheelbase_m is 0.0; it must be above zero. Correct it where it was entered. [M002]
    """
    return Fault(
        bound.code, where, f"{name} is {value}; {bound.must}", "Correct it where it was entered."
    )


def broken(where: str, checks: Checks) -> list[Fault]:
    """Gather what is impossible in a set of measurements; empty where nothing is.

    Examples
    --------
    >>> broken("axle loads", {"wheelbase_m": (2.4, POSITIVE), "mass_kg": (-1.0, POSITIVE)})[0].code
    'M002'
    """
    return [
        measurement_fault(where, name, value, bound)
        for name, (value, wanted) in checks.items()
        if (bound := _broken(value, wanted)) is not None
    ]


def require(where: str, checks: Checks) -> None:
    """Refuse impossible measurements, all of them together.

    Parameters
    ----------
    where : str
        The computation or the thing measured.
    checks : mapping
        Measurement name → (value, bound).

    Raises
    ------
    MeasurementError
        If a value is not finite or breaks its bound.

    Examples
    --------
    >>> require("axle loads", {"wheelbase_m": (2.4, POSITIVE)})
    """
    if faults := broken(where, checks):
        raise MeasurementError(faults)


def require_each(where: Sequence[str], checks: Checks) -> None:
    """Refuse impossible measurements of many things, all of them together.

    Parameters
    ----------
    where : sequence of str, shape (n,)
        What each thing is called.
    checks : mapping
        Measurement name → (values of shape (n,), bound).

    Raises
    ------
    MeasurementError
        If a value is not finite or breaks its bound.

    Examples
    --------
    >>> require_each(["vehicle 1"], {"mass_kg": (np.array([900.0]), POSITIVE)})
    """
    faults = [
        measurement_fault(where[index], name, float(values[index]), found)
        for name, (values, bound) in checks.items()
        if not np.all(np.isfinite(values) & bound.holds(values))
        for index in range(len(where))
        if (found := _broken(values[index], bound)) is not None
    ]
    if faults:
        raise MeasurementError(faults)


def _broken(value: Any, bound: Bound) -> Bound | None:
    if not np.isfinite(value):
        return FINITE
    return None if bound.holds(value) else bound
