"""Labels moved apart: along a line with the least movement, or off each other on a plane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.drawings.shapes import Point

MOST_ROUNDS = 80


@dataclass(frozen=True, slots=True)
class _Block:
    total: float
    count: int

    @property
    def mean(self) -> float:
        return self.total / self.count


def spread_along(positions: Sequence[float], gap: float) -> tuple[float, ...]:
    """Move positions so that neighbours are at least `gap` apart, and move them the least.

    Parameters
    ----------
    positions : sequence of float, shape (n,)
        In any order; the order from left to right is kept.
    gap : float
        Least distance between neighbours, >= 0.

    Returns
    -------
    tuple of float, shape (n,)
        New positions, in the order given.

    Source
    ------
    Least squares under order constraints, pool adjacent violators: Ayer et al., 1955.

    Examples
    --------
    >>> spread_along([1.0, 1.0, 5.0], 1.0)
    (0.5, 1.5, 5.0)
    """
    order = sorted(range(len(positions)), key=lambda index: positions[index])
    blocks: list[_Block] = []
    for rank, index in enumerate(order):
        block = _Block(positions[index] - rank * gap, 1)
        while blocks and blocks[-1].mean > block.mean:
            last = blocks.pop()
            block = _Block(last.total + block.total, last.count + block.count)
        blocks.append(block)
    means = [block.mean for block in blocks for _ in range(block.count)]
    moved = {index: means[rank] + rank * gap for rank, index in enumerate(order)}
    return tuple(moved[index] for index in range(len(positions)))


def pushed_apart(places: Sequence[Point], size: float) -> tuple[Point, ...]:
    """Move squares of one size off each other, by short steps along the shorter overlap.

    Examples
    --------
    >>> pushed_apart([(0.0, 0.0), (0.0, 0.0)], 1.0)
    ((-0.5, 0.0), (0.5, 0.0))
    """
    moved = [list(place) for place in places]
    for _ in range(MOST_ROUNDS):
        overlaps = [
            _push(moved[first], moved[second], size)
            for first in range(len(moved))
            for second in range(first + 1, len(moved))
        ]
        if not any(overlaps):
            break
    return tuple((x, y) for x, y in moved)


def _push(one: list[float], other: list[float], size: float) -> bool:
    apart = [other[axis] - one[axis] for axis in (0, 1)]
    over = [size - abs(distance) for distance in apart]
    if min(over) <= 1e-9:
        return False
    axis = 0 if over[0] <= over[1] else 1
    half = over[axis] / 2 * (1 if apart[axis] >= 0 else -1)
    one[axis] -= half
    other[axis] += half
    return True
