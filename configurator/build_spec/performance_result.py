"""What the drive of a vehicle can do, one number a line."""

from __future__ import annotations

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
    margin: float | None = None
    """Room left; negative where more is asked for than drive or tyres give for long."""
    how: str
    """How it is computed, in words."""
    source: str
