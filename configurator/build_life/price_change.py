"""What a change does to the price, in words."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal


def price_change_in_words(change_gbp: Decimal, written: Callable[[Decimal], str]) -> str:
    """Say that a change adds an amount, takes it off, or leaves the price as it is.

    Parameters
    ----------
    change_gbp : Decimal
        What the price grows by [GBP]; negative where it falls.
    written : callable
        Writes an amount as the screen or the paper does.

    Examples
    --------
    >>> price_change_in_words(Decimal("-80.00"), lambda amount: f"£{amount}")
    'takes off £80.00'
    >>> price_change_in_words(Decimal(0), str)
    'leaves the price as it is'
    """
    if change_gbp == 0:
        return "leaves the price as it is"
    return f"{'adds' if change_gbp > 0 else 'takes off'} {written(abs(change_gbp))}"
