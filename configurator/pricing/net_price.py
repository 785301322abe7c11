"""What a line costs before tax: parts and hours at the rate of each trade."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal

from configurator.catalog.models.vehicle import Work


def net_price_gbp(
    parts_gbp: Decimal, work: Sequence[Work], rate_gbp_per_hour: Mapping[str, Decimal]
) -> Decimal:
    """Add parts and the hours of each trade at its rate.

    Parameters
    ----------
    parts_gbp : Decimal
        Parts without tax [GBP].
    work : sequence of Work, shape (n,)
        Hours by trade and stage.
    rate_gbp_per_hour : mapping
        Rate of each trade without tax [GBP/h].

    Returns
    -------
    Decimal
        Net price, unrounded [GBP].

    Examples
    --------
    >>> paint = Work(trade="paint", hours=Decimal("2.5"), stage="paint")
    >>> net_price_gbp(Decimal("100.00"), [paint], {"paint": Decimal("60.00")})
    Decimal('250.000')
    """
    return sum((item.hours * rate_gbp_per_hour[item.trade] for item in work), start=parts_gbp)
