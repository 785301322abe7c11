"""What a change costs on top because the work has gone on."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal


def late_change_pence(
    altered_lines_pence: Sequence[tuple[int, int]], late_change_percent: Decimal
) -> int:
    """Charge a share of each altered choice: of the dearer of what it was and what it becomes.

    Work done for the old one is lost, or work on the new one starts among finished parts; either
    is at most the dearer. A choice that costs nothing both before and after is not altered.

    Parameters
    ----------
    altered_lines_pence : sequence of (int, int), shape (n,)
        Each altered choice before and after [pence]; nought where there was or is none.
    late_change_percent : Decimal
        Of the stage the vehicle is in [%], >= 0.

    Returns
    -------
    int
        Cost on top [pence], never negative.

    Source
    ------
    Common practice, no source.

    Examples
    --------
    >>> late_change_pence([(200_000, 250_000), (10_001, 0)], Decimal(15))
    39000
    """
    dearer = sum(max(abs(before), abs(after)) for before, after in altered_lines_pence)
    exact = Decimal(dearer) * late_change_percent / 100
    return int(exact.quantize(Decimal(1), rounding=ROUND_HALF_UP))


def payments_after_pence(
    planned_pence: Sequence[int], fallen_due: Sequence[bool], change_pence: int
) -> tuple[int, ...]:
    """Spread a change of the price over the payments that have not fallen due.

    Parameters
    ----------
    planned_pence : sequence of int, shape (n,)
        Payment at each stage before the change [pence].
    fallen_due : sequence of bool, shape (n,)
        Whether the stage is reached: such a payment stays as it is.
    change_pence : int
        What the change adds, late-change cost and all [pence]; negative for less.

    Returns
    -------
    tuple of int, shape (n,)
        They sum to the old sum with the change. What is still to come is changed in proportion, by
        cumulative rounding; once everything has fallen due, the last payment takes it all.

    Source
    ------
    Common practice, no source.

    Examples
    --------
    >>> payments_after_pence([100, 250, 250, 400], [True, True, False, False], 65)
    (100, 250, 275, 440)
    >>> payments_after_pence([100, 900], [True, True], -50)
    (100, 850)
    """
    coming = [0 if due else amount for amount, due in zip(planned_pence, fallen_due, strict=True)]
    if sum(coming) <= 0:
        coming = [0] * (len(coming) - 1) + [1]
    whole, so_far, given = sum(coming), 0, 0
    after = []
    for planned, share in zip(planned_pence, coming, strict=True):
        so_far += share
        exact = Decimal(change_pence) * so_far / whole
        due_by_now = int(exact.quantize(Decimal(1), rounding=ROUND_HALF_UP))
        after.append(planned + due_by_now - given)
        given = due_by_now
    return tuple(after)
