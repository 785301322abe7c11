"""Somewhere to charge: what it offers, and through which cable."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from configurator.catalog.models.data import Data, Identifier, Label, Sentence, Source
from configurator.catalog.plausible import within

CableResistor = Literal[1500, 680, 220, 100]
"""Proximity resistor of a charging cable [ohm]; stands for 13, 20, 32 and 63 A."""


class ChargingSource(Data):
    """Somewhere to charge: a domestic socket, a wall unit, a DC unit."""

    id: Identifier
    label: Label
    supply: Literal["ac", "dc"]
    voltage_v: float = Field(gt=50, lt=1000)
    current_a: float = Field(gt=1, lt=1000)
    phases: Literal[0, 1, 3]
    """0 for direct current."""
    cable_resistor_ohm: CableResistor | None = None
    """The proximity resistor in the plug of the charging cable counted with, which tells the
    vehicle or the unit what the cable carries; none for a cable fixed to the unit."""
    where: Literal["home", "public"] = "home"
    """Which tariffs apply."""
    max_power_kw: Annotated[float, within("max_power_kw")]
    from_percent: float = Field(ge=0, lt=100)
    to_percent: float = Field(gt=0, le=100)
    source: Sentence | Source
    checked_on: date | None = None
