"""The parts of the battery's main circuit: cables, main fuse, contactors, pre-charge."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.part import Part


class TractionCable(Part):
    """The pair of copper cables between battery and inverter, one core for each pole."""

    kind: Literal["traction_cable"]
    area_mm2: float = Field(gt=1, lt=400)
    rated_current_a: UncertainValue
    """What each core may carry for long in free air at 30 °C [A]."""
    max_conductor_c: float = Field(gt=40, lt=300)
    rated_voltage_v: float = Field(gt=20, lt=3000)


class MainFuse(Part):
    """The fuse of the battery's main circuit."""

    kind: Literal["main_fuse"]
    rated_current_a: float = Field(gt=1, lt=2000)
    rated_voltage_v: float = Field(gt=20, lt=3000)
    breaking_current_a: float = Field(gt=100, lt=300_000)
    """The greatest direct current that it can break."""


class MainContactor(Part):
    """One of the two contactors that join the battery to the drive."""

    kind: Literal["main_contactor"]
    rated_current_a: float = Field(gt=1, lt=2000)
    """What it carries for long."""
    peak_current_a: float = Field(gt=1, lt=6000)
    """What it carries for half a minute."""
    rated_voltage_v: float = Field(gt=20, lt=3000)


class PreCharge(Part):
    """The resistor, with its relay, that charges the inverter before the contactors close."""

    kind: Literal["pre_charge"]
    resistor_ohm: float = Field(gt=0.1, lt=10_000)
    pulse_energy_j: float = Field(gt=0, lt=100_000)
    """What the resistor bears at once, from cold."""
