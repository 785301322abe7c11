"""What becomes of a customer's day: energy by leg, what is left, whether it fits, what helps."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from configurator.build_spec.weights_result import WeightVerdict
from configurator.catalog.models.data import Data

Road = Literal["town", "country", "motorway"]
HelpKind = Literal["slower", "preheat", "charging", "together"]


class DayLeg(Data):
    """The part of a day on one kind of road, hills in it."""

    road: Road
    label: str
    distance_km: float
    energy_kwh: float
    """Out of the cells, at the middle of the estimate."""
    share_percent: float


class DayOutcome(Data):
    """How a day ends with one age of the battery; each band is P10 to P90."""

    battery: Literal["new", "aged"]
    usable_kwh: float
    used_low_kwh: float
    used_mid_kwh: float
    used_high_kwh: float
    left_low_percent: float
    """Of the usable energy on return; nine in ten likely have more. Below 0 it does not return."""
    left_mid_percent: float
    left_high_percent: float
    least_low_percent: float
    """As `left_low_percent`, at the emptiest moment of the day."""
    spare_low_km: float
    """How much further nine in ten likely get with the reserve kept; missing where negative."""
    spare_mid_km: float
    fits: bool
    """Nine in ten likely make the day with the reserve kept."""
    likelihood_percent: float
    """Of making the day with the reserve kept."""


class DayHelp(Data):
    """Something that would leave more, with what it brings on a new battery."""

    kind: HelpKind
    sentence: str
    spare_low_km: float
    fits: bool


WHOLE = "whole vehicle"


class DayLimit(Data):
    """What a day puts on the vehicle or on an axle, against what it may carry [kg]."""

    what: str
    """The whole vehicle or an axle."""
    load_kg: float
    sigma_kg: float
    limit_kg: float
    limit_words: str
    """What sets the limit."""

    @property
    def over_kg(self) -> float:
        """By how much the limit is exceeded; below 0 for what is to spare."""
        return self.load_kg - self.limit_kg

    @property
    def verdict(self) -> WeightVerdict:
        """Judge it: within two standard deviations of its limit it may be beyond."""
        if self.over_kg > 0:
            return "beyond"
        return "may be beyond" if self.over_kg > -2 * self.sigma_kg else "kept"


class DayResult(Data):
    """A customer's day with one build."""

    of_default_completion: bool
    """Choices were open; the workshop's choices stand in their place."""
    distance_km: float
    reserve_percent: float
    conditions: str
    charged_halfway_kwh: float = Field(ge=0)
    """At most, with the new battery; what is full takes no more."""
    new: DayOutcome
    aged: DayOutcome
    legs: tuple[DayLeg, ...]
    helps: tuple[DayHelp, ...]
    not_followed_percent: float
    """Of the time the drive is too weak for the speed asked for."""
    trailer_allowed_kg: float
    payload_spare_kg: float
    """Of the least of gross limit and axles, with the load in place; negative where overloaded."""
    assumptions: tuple[str, ...]
    limits: tuple[DayLimit, ...] = ()
    """The whole vehicle and each axle, with the day's load in place."""
