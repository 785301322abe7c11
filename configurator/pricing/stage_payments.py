"""Split a price over the stages of a build so that the parts sum to it to the penny."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from itertools import accumulate, pairwise

from configurator.errors import Fault, MeasurementError


def stage_payments_pence(total_pence: int, due_percents: Sequence[Decimal]) -> tuple[int, ...]:
    """Split a total by rounding what is due so far, not each part.

    Parameters
    ----------
    total_pence : int
        Price with tax [pence].
    due_percents : sequence of Decimal, shape (n,)
        Share due at each stage [%]; they sum to 100.

    Returns
    -------
    tuple of int, shape (n,)
        Payment at each stage [pence]; they sum to `total_pence`, and none is more than a penny
        away from its exact share.

    Raises
    ------
    MeasurementError
        If the shares do not sum to 100.

    Source
    ------
    Common practice, no source: cumulative rounding.

    Examples
    --------
    >>> stage_payments_pence(10001, [Decimal(10), Decimal(25), Decimal(65)])
    (1000, 2500, 6501)
    """
    if sum(due_percents) != 100:
        fault = Fault(
            "V002",
            "stages.yaml",
            f"the shares due sum to {sum(due_percents)} %; they must sum to 100 %",
            "Correct due_percent of the stages.",
        )
        raise MeasurementError([fault])
    due_so_far = [0, *(_share(total_pence, percent) for percent in accumulate(due_percents))]
    return tuple(later - earlier for earlier, later in pairwise(due_so_far))


def _share(total_pence: int, percent: Decimal) -> int:
    exact = Decimal(total_pence) * percent / 100
    return int(exact.quantize(Decimal(1), rounding=ROUND_HALF_UP))
