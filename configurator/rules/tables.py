"""Large tables of bounds in pieces the solver takes easily."""

from __future__ import annotations

from configurator.rules.clauses import Clause
from configurator.rules.conditions import Condition
from configurator.rules.limits import Limit
from configurator.rules.options import OptionBits, bits_of
from configurator.rules.sums import sum_of_weights


def envelope(limit: Limit, names: OptionBits) -> Limit | None:
    """Give a limit without a table that follows from one with a table, or None.

    Each class is given an allowance, the mean of its rows' bounds; what the most generous row has
    above its allowances is added for all. It sees what bounds taken row by row do not: that the
    option with the generous bound may be the heavy one.
    """
    if not limit.class_masks or limit.bounds[:1] == limit.bounds[-1:]:
        return None
    mean = sum(limit.bounds) // len(limit.bounds)
    allowance = {
        bit: _mean_bound(limit, limit.rows_of[bit], mean) - mean
        for mask in limit.class_masks
        for bit in bits_of(mask)
    }
    above = _greatest_above(limit, allowance)
    weights = {
        bit: limit.total.weights.get(bit, 0) - allowance.get(bit, 0)
        for mask in names.group_masks
        for bit in bits_of(mask)
    }
    total = sum_of_weights(limit.total.constant, weights, names)
    return Limit(limit.member, total, [above], (), {})


def broken_region(limit: Limit, build: int) -> Clause | Condition:
    """Give a wide region of choices around a build that breaks a limit, and its greatest bound.

    The build breaks what is given, and every build that keeps the limit keeps it.
    """
    sum_reached = limit.total.least(build)
    meant = {mask: _same_class(limit, mask, build & mask) for mask in limit.class_masks}
    for mask in limit.class_masks:
        for bit in bits_of(mask & ~meant[mask]):
            wider = {**meant, mask: meant[mask] | _same_class(limit, mask, bit)}
            rows = _rows(limit, wider)
            if not rows or limit.bound(rows) < sum_reached:
                meant = wider
    factors = tuple((mask, part) for mask, part in meant.items() if part != mask)
    rows = _rows(limit, meant)
    if not rows:
        return Clause(limit.member, factors)
    return Condition(limit.member, factors, limit.total, limit.bound(rows))


def _mean_bound(limit: Limit, rows: int, mean: int) -> int:
    if not rows:
        return mean
    return sum(limit.bound(row) for row in bits_of(rows)) // rows.bit_count()


def _greatest_above(limit: Limit, allowance: dict[int, int]) -> int:
    above = limit.bounds.copy()
    for mask in limit.class_masks:
        for rows, bit in {limit.rows_of[bit]: bit for bit in bits_of(mask)}.items():
            for row in bits_of(rows):
                above[row.bit_length() - 1] -= allowance[bit]
    return max(above)


def _same_class(limit: Limit, mask: int, option: int) -> int:
    rows = limit.rows_of[option]
    return sum(bit for bit in bits_of(mask) if limit.rows_of[bit] == rows)


def _rows(limit: Limit, meant: dict[int, int]) -> int:
    rows = limit.every_row
    for part in meant.values():
        of_part = 0
        for bit in bits_of(part):
            of_part |= limit.rows_of[bit]
        rows &= of_part
    return rows
