"""Numbers, amounts, days and spans as people read them."""

from __future__ import annotations

import math
from datetime import date
from decimal import Decimal

from configurator.build_spec.days import day_in_words

_MINUS = "−"


def number(value: float | Decimal, decimals: int = 0) -> str:
    """Write a number with thousands separated and a true minus sign.

    Examples
    --------
    >>> number(-1234.5, 1)
    '−1,234.5'
    >>> number(-0.2)
    '0'
    """
    text = f"{value:,.{decimals}f}"
    is_zero = not text.strip("-0.,")
    return text.lstrip("-") if is_zero else text.replace("-", _MINUS)


def span(low: float | Decimal, high: float | Decimal, decimals: int = 0, unit: str = "") -> str:
    """Write a from–to, widened to the last digit printed so that it still holds, or one number.

    Examples
    --------
    >>> span(118.7, 141.2, unit="km"), span(7.04, 7.04, 1, "h")
    ('118–142 km', '7.0 h')
    >>> span(-3.0, 2.0, unit="kg")
    '−3 to 2 kg'
    """
    least, most = (low, high) if low == high else _widened(low, high, decimals)
    lower, upper = number(least, decimals), number(most, decimals)
    joint = " to " if _MINUS in lower + upper else "–"
    text = lower if lower == upper else f"{lower}{joint}{upper}"
    return f"{text} {unit}".rstrip()


def _widened(low: float | Decimal, high: float | Decimal, decimals: int) -> tuple[float, float]:
    step = 10.0**decimals
    least = math.floor(round(float(low) * step, 6)) / step
    most = math.ceil(round(float(high) * step, 6)) / step
    return least, most


def pounds(amount_gbp: Decimal) -> str:
    """Write an amount [GBP] to the penny.

    Examples
    --------
    >>> pounds(Decimal("-1250.00"))
    '−£1,250.00'
    """
    sign = _MINUS if amount_gbp < 0 else ""
    return f"{sign}£{abs(amount_gbp):,.2f}"


def pounds_span(low_gbp: Decimal, high_gbp: Decimal) -> str:
    """Write an amount or a from–to [GBP] to the penny.

    Examples
    --------
    >>> pounds_span(Decimal("10.00"), Decimal("12.50"))
    '£10.00 to £12.50'
    """
    if low_gbp == high_gbp:
        return pounds(low_gbp)
    return f"{pounds(low_gbp)} to {pounds(high_gbp)}"


day = day_in_words
"""Write a day, such as 7 March 2026."""


def days_span(first: date, last: date) -> str:
    """Write a day or a from–to of days, the year once where it is the same.

    Examples
    --------
    >>> days_span(date(2026, 3, 7), date(2026, 5, 2))
    '7 March to 2 May 2026'
    >>> days_span(date(2026, 12, 7), date(2027, 1, 2))
    '7 December 2026 to 2 January 2027'
    """
    if first == last:
        return day(first)
    start = day(first).removesuffix(f" {first.year}") if first.year == last.year else day(first)
    return f"{start} to {day(last)}"


def duration(hours: float) -> str:
    """Write a time in hours and minutes.

    Examples
    --------
    >>> duration(6.262), duration(0.7)
    ('6 h 16 min', '42 min')
    """
    whole, minutes = divmod(round(hours * 60), 60)
    if whole == 0:
        return f"{minutes} min"
    return f"{whole} h {minutes:02d} min"


def duration_span(low_hours: float, high_hours: float) -> str:
    """Write a time or a from–to of times.

    Examples
    --------
    >>> duration_span(6.0, 6.5)
    '6 h 00 min to 6 h 30 min'
    """
    low, high = duration(low_hours), duration(high_hours)
    return low if low == high else f"{low} to {high}"
