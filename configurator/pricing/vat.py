"""Value-added tax: the rate of the day, amounts with it, and the tax inside an amount."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from configurator.catalog.models.workshop import Vat
from configurator.errors import Fault, MeasurementError
from configurator.units import pence


def vat_percent_on(day: date, rates: Sequence[Vat]) -> Decimal:
    """Find the rate in force on a day.

    Parameters
    ----------
    day : date
        The day the price is made.
    rates : sequence of Vat, shape (n,)
        Dated rates in any order.

    Returns
    -------
    Decimal
        The rate [%] with the latest `valid_from` that is not after `day`.

    Raises
    ------
    MeasurementError
        If no rate was in force yet.

    Examples
    --------
    >>> rate = Vat(percent=Decimal("20"), valid_from=date(2011, 1, 4), source="dated law")
    >>> vat_percent_on(date(2026, 11, 25), [rate])
    Decimal('20')
    """
    in_force = [rate for rate in rates if rate.valid_from <= day]
    if not in_force:
        fault = Fault(
            "V001",
            "workshop.yaml",
            f"no VAT rate is in force on {day.isoformat()}; a price needs the rate of its day",
            "Add a rate that is valid from that day or earlier, or correct the day.",
        )
        raise MeasurementError([fault])
    return max(in_force, key=lambda rate: rate.valid_from).percent


def gross_pence(net_gbp: Decimal, vat_percent: Decimal) -> int:
    """Add the tax to a printed line and round it to the penny, half a penny up.

    Every printed line is rounded once, so that the lines sum to the total exactly.

    Parameters
    ----------
    net_gbp : Decimal
        Amount without tax [GBP].
    vat_percent : Decimal
        Rate [%].

    Returns
    -------
    int
        Amount with tax [pence].

    Source
    ------
    Common practice, no source: rounding by line.

    Examples
    --------
    >>> gross_pence(Decimal("1250.00"), Decimal("20"))
    150000
    """
    return pence(net_gbp * (100 + vat_percent) / 100)


def vat_included_pence(total_pence: int, vat_percent: Decimal) -> int:
    """Tell the tax inside an amount that includes it, by the VAT fraction.

    Parameters
    ----------
    total_pence : int
        Amount with tax [pence].
    vat_percent : Decimal
        Rate [%]; the fraction is rate / (100 + rate), one sixth at 20 %.

    Returns
    -------
    int
        Tax [pence], half a penny up.

    Source
    ------
    VAT fraction: Value Added Tax Act 1994, section 2; from memory.

    Examples
    --------
    >>> vat_included_pence(150000, Decimal("20"))
    25000
    """
    fraction = Decimal(total_pence) * vat_percent / (100 + vat_percent)
    return int(fraction.quantize(Decimal(1), rounding=ROUND_HALF_UP))
