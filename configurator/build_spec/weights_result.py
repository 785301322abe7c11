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
    """The axles under it stood on a weighbridge."""


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
