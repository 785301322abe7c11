"""A scale of round numbers from zero, and its place on the paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

WANTED_STEPS = 4


@dataclass(frozen=True, slots=True)
class Scale:
    """Maps values from zero to `last` onto the stretch from `left` to `right`."""

    left: float
    right: float
    last: float
    step: float

    def at(self, value: float) -> float:
        """Place a value, held within the stretch.

        Examples
        --------
        >>> Scale(left=10.0, right=110.0, last=200.0, step=50.0).at(100.0)
        60.0
        """
        share = min(max(value / self.last, 0.0), 1.0)
        return self.left + (self.right - self.left) * share

    def ticks(self) -> tuple[float, ...]:
        """List the round numbers of the scale.

        Examples
        --------
        >>> Scale(left=0.0, right=1.0, last=200.0, step=50.0).ticks()
        (0.0, 50.0, 100.0, 150.0, 200.0)
        """
        return tuple(self.step * number for number in range(round(self.last / self.step) + 1))


def scale_for(greatest: float, left: float, right: float) -> Scale:
    """Choose a scale of round steps (1, 2 or 5 times a power of ten) that holds a value.

    Examples
    --------
    >>> scale_for(237.0, 0.0, 100.0).last
    300.0
    """
    wanted = max(greatest, 1.0) / WANTED_STEPS
    power = 10.0 ** math.floor(math.log10(wanted))
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= wanted * 0.999)
    return Scale(left, right, step * math.ceil(max(greatest, 1.0) / step), step)
