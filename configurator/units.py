"""Exact conversions and roundings, each in one place.

Integers are the language of the solver: grams, millimetres, pence and tenths of an hour, so that
a limit is kept or broken exactly and never by a rounding error.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

STANDARD_GRAVITY_M_S2 = 9.80665
"""Standard acceleration of free fall [m/s²]. Source: ISO 80000-3."""

KM_H_PER_M_S = 3.6
"""Kilometres per hour in one metre per second; exact."""

JOULES_PER_KWH = 3_600_000.0
"""Joules in a kilowatt-hour; exact."""

JOULES_PER_WATT_HOUR = 3600.0
"""Joules in a watt-hour; exact."""

METRES_PER_MILE = 1609.344
"""Metres in an international mile; exact."""

DAYS_PER_WEEK = 7


def grams(mass_kg: float) -> int:
    """Convert a mass [kg] to whole grams.

    Examples
    --------
    >>> grams(12.5)
    12500
    """
    return round(mass_kg * 1000)


def millimetres(length_m: float) -> int:
    """Convert a length [m] to whole millimetres.

    Examples
    --------
    >>> millimetres(-0.85)
    -850
    """
    return round(length_m * 1000)


def pence(amount_gbp: Decimal) -> int:
    """Convert an amount [GBP] to pence, half a penny rounded up (away from zero).

    Examples
    --------
    >>> pence(Decimal("10.005"))
    1001
    """
    return int((amount_gbp * 100).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def pounds(amount_pence: int) -> Decimal:
    """Convert pence to an amount [GBP] with two decimals.

    Examples
    --------
    >>> pounds(123456)
    Decimal('1234.56')
    """
    return (Decimal(amount_pence) / 100).quantize(Decimal("0.01"))


def tenths(hours: Decimal) -> int:
    """Convert working hours to tenths of an hour.

    Examples
    --------
    >>> tenths(Decimal("7.5"))
    75
    """
    return int((hours * 10).quantize(Decimal(1), rounding=ROUND_HALF_UP))
