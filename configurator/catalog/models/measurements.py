"""What was measured on the road: coast-downs and trips."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator

from configurator.catalog.models.data import Data, Identifier, Sentence


class CoastDownRun(Data):
    """One run out of gear: speed over time until it is slow."""

    time_s: tuple[Annotated[float, Field(ge=0, le=600)], ...] = Field(min_length=4, max_length=2000)
    speed_km_h: tuple[Annotated[float, Field(ge=0, le=200)], ...] = Field(
        min_length=4, max_length=2000
    )

    @model_validator(mode="after")
    def _pairs_up(self) -> CoastDownRun:
        if len(self.time_s) != len(self.speed_km_h):
            msg = (
                f"a run needs a speed for each time; it has {len(self.time_s)} times and "
                f"{len(self.speed_km_h)} speeds"
            )
            raise ValueError(msg)
        return self


class CoastDown(Data):
    """Runs on one day, as many in one direction as in the other."""

    measured_on: date
    vehicle_was: Literal["donor", "finished"]
    """The donor as it came in, or the finished vehicle with everything chosen on it."""
    mass_kg: float = Field(gt=300, le=5000)
    """With everybody in it, as weighed for the test."""
    temperature_c: float = Field(ge=-10, le=45)
    altitude_m: float = Field(ge=-100, le=3000, default=0)
    runs: tuple[CoastDownRun, ...] = Field(min_length=2, max_length=40)
    note: Sentence | None = None


class MeasuredTrip(Data):
    """A trip that was driven, with the energy that it took."""

    driven_on: date
    case: Identifier
    """The driving case that it was most like."""
    km: float = Field(gt=1, le=2000)
    energy_kwh: float = Field(gt=0.1, le=500)
    """Out of the battery, as its monitor counted."""


class Measurements(Data):
    """Everything measured on the road for one build."""

    coast_down: CoastDown | None = None
    trips: tuple[MeasuredTrip, ...] = Field(default=(), max_length=200)
