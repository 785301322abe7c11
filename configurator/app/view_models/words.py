"""Amounts, dates and counts in the words of the screens."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from configurator.build_spec.days import day_in_words

PENNY = Decimal("0.01")
MINUS = "\N{MINUS SIGN}"
UNBROKEN_SPACE = "\N{NO-BREAK SPACE}"
DAY_TYPED = "DD/MM/YYYY"
"""How a day stands in the field where it is typed: in the order in which it is spoken."""


def money(amount_gbp: Decimal) -> str:
    """Say an amount [GBP]; pennies only where there are some.

    Examples
    --------
    >>> money(Decimal("46250.00")), money(Decimal("46250.40"))
    ('£46,250', '£46,250.40')
    """
    exact = amount_gbp.quantize(PENNY)
    sign = MINUS if exact < 0 else ""
    digits = f"{abs(exact):,.0f}" if exact == exact.to_integral_value() else f"{abs(exact):,.2f}"
    return f"{sign}£{digits}"


def money_from_to(low_gbp: Decimal, high_gbp: Decimal) -> str:
    """Say a from–to [GBP], widened to whole pounds so that it still holds.

    Examples
    --------
    >>> money_from_to(Decimal("41200.60"), Decimal("52900.10"))
    '£41,200 – £52,901'
    >>> money_from_to(Decimal("41200.60"), Decimal("41200.60"))
    '£41,200.60'
    """
    if low_gbp == high_gbp:
        return money(low_gbp)
    low = low_gbp.to_integral_value(rounding=ROUND_FLOOR)
    high = high_gbp.to_integral_value(rounding=ROUND_CEILING)
    return f"{money(low)} – {money(high)}"


def price_difference(amount_gbp: Decimal) -> str:
    r"""Say what an option costs more or less than another [GBP].

    Examples
    --------
    >>> price_difference(Decimal("1200")), price_difference(Decimal("-80.5"))
    ('+\xa0£1,200', '−\xa0£80.50')
    >>> price_difference(Decimal("0"))
    'no difference'
    """
    if amount_gbp.quantize(PENNY) == 0:
        return "no difference"
    sign = "+" if amount_gbp > 0 else MINUS
    return f"{sign}{UNBROKEN_SPACE}{money(abs(amount_gbp))}"


def difference(amount: float, unit: str) -> str:
    r"""Say how far a figure moves, in whole units.

    Examples
    --------
    >>> difference(34.6, "kg"), difference(-12.0, "km"), difference(0.2, "km")
    ('+\xa035\xa0kg', '−\xa012\xa0km', 'less than +\xa01\xa0km')
    >>> difference(0.0, "kg")
    'no difference'
    """
    if round(amount, 6) == 0:
        return "no difference"
    sign = "+" if amount > 0 else MINUS
    size = round(abs(amount))
    words = f"{sign}{UNBROKEN_SPACE}{max(size, 1):,}{UNBROKEN_SPACE}{unit}"
    return words if size else f"less than {words}"


def days_difference(days: int) -> str:
    """Say how far a date moves.

    Examples
    --------
    >>> days_difference(9), days_difference(-1), days_difference(0)
    ('9 days later', '1 day earlier', 'no difference')
    """
    if days == 0:
        return "no difference"
    return f"{count(abs(days), 'day', 'days')} {'later' if days > 0 else 'earlier'}"


def week_of(value: date) -> str:
    """Say the week in which a day falls by its Monday.

    Examples
    --------
    >>> week_of(date(2027, 5, 6))
    'week of 3 May 2027'
    """
    return f"week of {day(value - timedelta(days=value.weekday()))}"


def rounded_up(number: int) -> str:
    """Say an upper bound so that people can take it in, and so that it still holds.

    Examples
    --------
    >>> rounded_up(418), rounded_up(3_482_900), rounded_up(61_000_000_000)
    ('418', '3.5 million', '61 billion')
    """
    for size, name in ((10**12, "trillion"), (10**9, "billion"), (10**6, "million")):
        if number >= size:
            whole, tenths = divmod(-(-number * 10 // size), 10)
            return f"{whole:,}.{tenths} {name}" if tenths else f"{whole:,} {name}"
    return f"{number:,}"


def from_to(low: float, high: float, unit: str, decimals: int = 0) -> str:
    """Say a from–to, widened to the last digit shown so that it still holds.

    Examples
    --------
    >>> from_to(141.7, 182.2, "km"), from_to(1290.0, 1290.0, "kg"), from_to(6.52, 8.0, "h", 1)
    ('141–183 km', '1,290 kg', '6.5–8.0 h')
    """
    step = 10.0**decimals
    least = math.floor(round(low * step, 6)) / step
    most = math.ceil(round(high * step, 6)) / step
    if low == high:
        return f"{low:,.{decimals}f} {unit}"
    if least == most:
        return f"{least:,.{decimals}f} {unit}"
    return f"{least:,.{decimals}f}–{most:,.{decimals}f} {unit}"


def time_taken(hours: float) -> str:
    r"""Say how long something takes, to the minute.

    Examples
    --------
    >>> time_taken(11.103), time_taken(0.63)
    ('11\xa0h\xa006\xa0min', '38\xa0min')
    """
    whole, minutes = divmod(round(hours * 60), 60)
    said = f"{whole} h {minutes:02d} min" if whole else f"{minutes} min"
    return said.replace(" ", UNBROKEN_SPACE)


def time_from_to(low_hours: float, high_hours: float) -> str:
    r"""Say a from–to of how long something takes, or one time.

    Examples
    --------
    >>> time_from_to(4.1, 11.103)
    '4\xa0h\xa006\xa0min to 11\xa0h\xa006\xa0min'
    """
    low, high = time_taken(low_hours), time_taken(high_hours)
    return low if low == high else f"{low} to {high}"


def source_told(words: str) -> str:
    """Say it plainly where nothing was published.

    Examples
    --------
    >>> source_told("Source: common practice, no source.")
    'Source: our practice, nothing published.'
    """
    return words.replace("common practice, no source", "our practice, nothing published")


day = day_in_words
"""Say a date, such as 4 May 2027."""


def day_from_to(first: date, last: date) -> str:
    """Say two dates with short months, month and year once when they are the same.

    Examples
    --------
    >>> day_from_to(date(2027, 3, 3), date(2027, 4, 20))
    '3 Mar – 20 Apr 2027'
    >>> day_from_to(date(2027, 1, 29), date(2027, 1, 31))
    '29–31 Jan 2027'
    """
    if first == last:
        return day(first)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day}–{last.day} {last:%b %Y}"
    start = f"{first.day} {first:%b}" if first.year == last.year else f"{first.day} {first:%b %Y}"
    return f"{start} – {last.day} {last:%b %Y}"


def moment(value: datetime) -> str:
    """Say an instant, as told by its own time zone.

    Examples
    --------
    >>> from datetime import UTC
    >>> moment(datetime(2027, 5, 4, 9, 5, tzinfo=UTC))
    '4 May 2027, 09:05'
    """
    return f"{day(value.date())}, {value:%H:%M}"


def rounded(value: float, decimals: int) -> str:
    """Say a value with a minus that reads as one, and nothing below nothing.

    Examples
    --------
    >>> rounded(-1250.5, 1), rounded(-0.04, 0)
    ('−1,250.5', '0')
    """
    digits = f"{value:,.{decimals}f}"
    return digits.replace("-", MINUS if digits.strip("-0.,") else "")


def count(number: int, one: str, many: str) -> str:
    """Say how many.

    Examples
    --------
    >>> count(1, "choice", "choices"), count(3, "choice", "choices")
    ('1 choice', '3 choices')
    """
    return f"{number} {one if number == 1 else many}"
