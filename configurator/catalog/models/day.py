"""A day of driving as a customer tells it: which roads, hills, load, weather, what must be left."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from configurator.catalog.models.data import Data, Identifier
from configurator.catalog.plausible import within

STEEPEST_MEAN_PERCENT = 15.0
"""Metres climbed and descended by all metres driven, beyond which it is a slip of the keyboard."""


class Trailer(Data):
    """A trailer behind the vehicle; drag and rolling are those of a low single-axle trailer.

    Common practice, no source: a low trailer in the vehicle's wake adds half a square metre of drag
    area, a tall box or a caravan 1.5 to 2.5.
    """

    mass_kg: float = Field(gt=0, le=3500)
    """With its load."""
    drag_area_m2: float = Field(ge=0, le=5, default=0.6)
    """What it adds to the vehicle's."""
    rolling_resistance: float = Field(ge=0.005, le=0.03, default=0.014)


class CustomersDay(Data):
    """What a customer wants to drive in one day, from a full battery and back."""

    town_km: float = Field(ge=0, le=1000, default=0)
    country_km: float = Field(ge=0, le=1000, default=0)
    motorway_km: float = Field(ge=0, le=1000, default=0)
    motorway_km_h: float = Field(ge=40, le=130, default=95)
    climbed_m: float = Field(ge=0, le=10_000, default=0)
    descended_m: float = Field(ge=0, le=10_000, default=0)
    trailer: Trailer | None = None
    load: Literal["driver", "laden"] = "driver"
    load_kg: float | None = Field(default=None, ge=0, le=3000)
    """People and things besides the driver; counts in the place of `load`."""
    temperature_c: Annotated[float, within("temperature_c")] = 10
    """Outside, at the start."""
    battery_c: Annotated[float, within("battery_c")] | None = None
    """Of the battery's cells at the start; as cold or warm as the air when absent."""
    cabin_c: Annotated[float, within("cabin_c")] = 20
    altitude_m: Annotated[float, within("altitude_m")] = 0
    cold_starts: int = Field(ge=1, le=20, default=1)
    """How often it sets out with a cold cabin."""
    preheats: bool = False
    """The cabin is warmed from the cable before the first start."""
    charging_source: Identifier | None = None
    """Where it can charge halfway; the workshop's overnight source when absent."""
    hours_charging: float = Field(ge=0, le=24, default=0)
    """How long it charges halfway; 0 for not at all."""
    reserve_percent: float = Field(ge=0, le=60, default=10)
    """What must be left of the usable energy all the time."""

    @property
    def distance_km(self) -> float:
        """The whole way."""
        return self.town_km + self.country_km + self.motorway_km

    @model_validator(mode="after")
    def _can_be_driven(self) -> CustomersDay:
        if self.distance_km <= 0:
            msg = "a day needs a distance in town, on country roads or on the motorway"
            raise ValueError(msg)
        hills_m = self.climbed_m + self.descended_m
        if hills_m > 10 * STEEPEST_MEAN_PERCENT * self.distance_km:
            msg = (
                f"{hills_m:g} m of hills in {self.distance_km:g} km would be steeper than roads "
                f"are, more than {STEEPEST_MEAN_PERCENT:g} % all the way"
            )
            raise ValueError(msg)
        if self.load == "laden" and self.load_kg is not None:
            msg = '"load: laden" and "load_kg" say two different loads'
            raise ValueError(msg)
        return self


class DayRoads(Data):
    """What stands for the roads of a customer's day."""

    town: Identifier = "wltc-class-1"
    country: Identifier = "wltc-class-2"
    hill_percent: float = Field(gt=0.5, le=15, default=5)
    """How steep the hills are taken to be; common practice, no source."""
