"""A scale of round numbers, from zero or between two values, and its place on the paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

WANTED_STEPS = 4


@dataclass(frozen=True, slots=True)
class Scale:
    """Maps values from `first` to `last` onto the stretch from `left` to `right`."""

    left: float
    right: float
    last: float
    step: float
    first: float = 0.0

    def at(self, value: float) -> float:
        """Place a value, held within the stretch.

        Examples
        --------
        >>> Scale(left=10.0, right=110.0, last=200.0, step=50.0).at(100.0)
        60.0
        """
        share = min(max((value - self.first) / (self.last - self.first), 0.0), 1.0)
        return self.left + (self.right - self.left) * share

    def ticks(self) -> tuple[float, ...]:
        """List the round numbers of the scale.

        Examples
        --------
        >>> Scale(left=0.0, right=1.0, last=200.0, step=50.0).ticks()
        (0.0, 50.0, 100.0, 150.0, 200.0)
        """
        steps = round((self.last - self.first) / self.step)
        return tuple(self.first + self.step * number for number in range(steps + 1))


def scale_for(greatest: float, left: float, right: float) -> Scale:
    """Choose a scale of round steps (1, 2 or 5 times a power of ten) that holds a value.

    Examples
    --------
    >>> scale_for(237.0, 0.0, 100.0).last
    300.0
    """
    step = _round_step(max(greatest, 1.0) / WANTED_STEPS)
    return Scale(left, right, step * math.ceil(max(greatest, 1.0) / step), step)


def scale_between(least: float, greatest: float, left: float, right: float) -> Scale:
    """Choose a scale of round steps that holds two values and need not begin at zero.

    Parameters
    ----------
    least, greatest : float
        What the scale must hold; both ends of it are round, and at least one step apart.
    left, right : float
        The stretch on the paper.

    Returns
    -------
    Scale
        Of at most six steps.

    Examples
    --------
    >>> scale_between(41_200.0, 52_900.0, 0.0, 100.0).ticks()
    (40000.0, 45000.0, 50000.0, 55000.0)
    """
    step = _round_step(max(greatest - least, 1.0) / WANTED_STEPS)
    first = step * math.floor(least / step)
    last = max(step * math.ceil(greatest / step), first + step)
    return Scale(left, right, last, step, first)


def _round_step(wanted: float) -> float:
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(power * factor for factor in (1, 2, 5, 10) if power * factor >= wanted * 0.999)
