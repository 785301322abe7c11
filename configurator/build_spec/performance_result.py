"""What the drive of a vehicle can do, one number a line."""

from __future__ import annotations

import math
from typing import Literal

from configurator.catalog.models.data import Data

Topic = Literal["Pulling away", "Top speed", "Restart on a hill", "Fast road"]


class PerformanceLine(Data):
    """A number of the drive, with what limits it and how it is computed."""

    id: str
    topic: Topic
    label: str
    value: float | None
    """None where it is not reached, or nothing limits it; `note` says which."""
    unit: str
    decimals: int
    rounding: Literal["nearest", "down", "up"] = "nearest"
    limited_by: str = ""
    """In words; empty where nothing was compared."""
    note: str = ""
    sigma: float | None = None
    """Standard deviation of the value; None where nothing is doubted or it may not be reached."""
    margin: float | None = None
    """Room left; negative where more is asked for than drive or tyres give for long."""
    margin_sigma: float | None = None
    """Standard deviation of the room left."""
    how: str
    """How it is computed, in words."""
    source: str

    @property
    def spread(self) -> float | None:
        """Two standard deviations, rounded up to the digits that are told; None for no doubt.

        Examples
        --------
        >>> PerformanceLine(id="a", topic="Top speed", label="Top", value=112.0, unit="km/h",
        ...     decimals=0, sigma=3.1, how="", source="").spread
        7.0
        """
        if not self.sigma or self.value is None:
            return None
        step = 10.0**self.decimals
        return math.ceil(round(2 * self.sigma * step, 6)) / step

    @property
    def may_not_hold(self) -> bool:
        """Whether there is room, but less of it than two standard deviations."""
        if self.margin is None or self.margin_sigma is None:
            return False
        return 0 <= self.margin < 2 * self.margin_sigma
