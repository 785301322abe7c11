"""How a vehicle stands at each stage of loading, and its weights against their limits."""

from __future__ import annotations

from typing import Literal

from configurator.catalog.models.data import Data
from configurator.catalog.models.rule import FactName, Severity

LoadingStage = Literal["donor", "kerb", "driver", "people", "load", "roof-load", "nose-weight"]

WeightVerdict = Literal["kept", "may be beyond", "beyond"]


class Loading(Data):
    """One stage of loading: masses [kg], centre of gravity [m], each with its σ."""

    stage: LoadingStage
    label: str
    mass_kg: float
    mass_sigma_kg: float
    front_kg: float
    front_sigma_kg: float
    rear_kg: float
    rear_sigma_kg: float
    left_kg: float
    right_kg: float
    side_sigma_kg: float
    x_m: float
    """Behind the front axle."""
    y_m: float
    """To the right of the centre line."""
    height_m: float
    height_sigma_m: float
    is_weighed: bool
    """It stood on a weighbridge like this."""
    rests_on_weighed: bool = False
    """It is computed from axles that stood on a weighbridge."""


class Compared(Data):
    """What a limit about weights compares, as people see it: an axle's load, not its margin."""

    value: float
    sigma: float | None
    bound: float
    bound_is: Literal["at most", "at least"]
    unit: str
    decimals: int
    when: str = ""
    """At which loading, or where; empty where it goes without saying."""


class Heaviest(Data):
    """How sure an axle's laden load is, and when the axle carries it."""

    sigma_kg: float
    when: str
    """In words; what would lift the axle stays away."""
    rests_on_weighed: bool
    """The load is computed from the axles of the finished vehicle as weighed."""


class Carrying(Data):
    """What a complete build may carry beside the driver, and what "fully laden" means."""

    payload_kg: float
    """The least of all limits, with the seats taken first and the rest where the load goes."""
    payload_sigma_kg: float
    limited_by: str
    """In words: the gross mass limit, or an axle with what limits it."""
    place_label: str
    """Where it lies once the seats are taken."""
    fully_laden: str
    """The mass, and what is carried, in words."""


class WeightCheck(Data):
    """A fact about weights of a complete build against its limit, with its σ."""

    limit_id: str
    label: str
    fact: FactName
    value: float
    sigma: float | None
    bound: float
    bound_is: Literal["at most", "at least"]
    verdict: WeightVerdict
    """"may be beyond": the limit lies within two σ of the value."""
    severity: Severity
    is_weighed: bool
    because: str
    source: str
    compared: Compared | None = None
    """None where the fact itself is what people compare."""
