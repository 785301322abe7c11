"""A vehicle model as the workshop receives it: geometry, weights, limits, drag, places."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import (
    Data,
    Hours,
    Identifier,
    Label,
    Money,
    Sentence,
    Source,
    UncertainValue,
)

Emblem = Literal[
    "traction-battery",
    "motor",
    "charger",
    "charging-inlet",
    "high-voltage-cable",
    "service-disconnect",
    "low-voltage-battery",
    "heater",
    "gas-strut",
]
"""What the emergency sheet draws at a place."""


class Place(Data):
    """A named place in the vehicle."""

    label: Label
    x_m: float = Field(ge=-2, le=8)
    """Behind the front axle; negative ahead of it [m]."""
    y_m: float = Field(ge=-1.5, le=1.5, default=0)
    """To the right of the centre line [m]."""
    z_m: float = Field(ge=0, le=3)
    """Above the ground [m]."""


class PlacedItem(Data):
    """Something with a mass [kg] at a named place."""

    what: Label
    mass_kg: float = Field(gt=0, le=2000)
    place: Identifier
    emblem: Emblem | None = None


class Work(Data):
    """Hours of one trade in one stage."""

    trade: Identifier
    hours: Hours
    stage: Identifier


class BaseLine(Data):
    """A line of every conversion of this vehicle, whatever is chosen."""

    id: Identifier
    label: Label
    parts_gbp: Money
    work: tuple[Work, ...] = ()
    lead_weeks: int = Field(ge=0, le=104, default=0)
    needed_by: Identifier | None = None


class Outline(Data):
    """The side and top view, in metres: x behind the front axle, z above the ground."""

    body: tuple[tuple[float, float], ...] = Field(min_length=4)
    """Closed outline of the body below the roof line, from front bottom clockwise."""
    lower_band: tuple[tuple[float, float], ...] = ()
    """Closed area that takes the second colour, may be empty."""
    roof: tuple[tuple[float, float], ...] = Field(min_length=2)
    """The roof line from front to rear, where the chosen roof is drawn."""
    windows: tuple[tuple[tuple[float, float], ...], ...] = ()
    doors: tuple[tuple[tuple[float, float], ...], ...] = ()
    """Shut lines, each a polyline."""
    bumpers: tuple[tuple[tuple[float, float], ...], ...] = ()
    lamps: tuple[tuple[float, float, float], ...] = ()
    """Centre x, centre z and radius of each lamp [m]."""
    load_bed: tuple[tuple[float, float], ...] = ()


class Vehicle(Data):
    """One model of donor vehicle that the workshop converts."""

    id: Identifier
    label: Label
    year: int = Field(ge=1900, le=2100)
    kind: Label
    introduction: Sentence
    source: Sentence | Source
    wheelbase_m: float = Field(gt=1.2, lt=5)
    track_m: float = Field(gt=0.8, lt=2.2)
    length_m: float = Field(gt=2, lt=8)
    width_m: float = Field(gt=1, lt=2.6)
    height_m: float = Field(gt=0.8, lt=3.5)
    front_overhang_m: float = Field(gt=0.1, lt=2)
    donor_front_axle_kg: float = Field(gt=100, lt=4000)
    donor_rear_axle_kg: float = Field(gt=100, lt=4000)
    front_axle_limit_kg: float = Field(gt=100, lt=5000)
    rear_axle_limit_kg: float = Field(gt=100, lt=5000)
    gross_mass_limit_kg: float = Field(gt=300, lt=8000)
    mass_sigma_kg: float = Field(gt=0, lt=300)
    """Standard deviation of the computed kerb mass until the vehicle is weighed [kg]."""
    driven_axle: Literal["front", "rear"]
    recovery_full_from_km_h: float = Field(ge=0, le=40, default=12)
    """Speed from which the motor brakes with its whole share; below, the friction brakes do more."""
    drag_area_m2: UncertainValue
    auxiliary_power_w: UncertainValue
    cabin_heat_loss_w_per_k: UncertainValue
    cabin_heat_capacity_kj_per_k: float = Field(ge=0, le=500, default=0)
    """What warms up with the cabin: air, trim, seats, sheet metal inside its lining."""
    base_low_voltage_load_w: float = Field(ge=0, lt=5000)
    cable_run_m: float | None = Field(default=None, gt=0, lt=20)
    """One way along the high-voltage cables from the battery to the inverter [m]."""
    cable_ambient_c: float | None = Field(default=None, gt=0, lt=150)
    """The warmest that it gets around those cables [°C]."""
    places: dict[Identifier, Place]
    driver_place: Identifier
    takes_out: tuple[PlacedItem, ...]
    puts_in: tuple[PlacedItem, ...]
    carries: tuple[PlacedItem, ...]
    """What the laden vehicle carries besides the driver and the people on the seats."""
    fits: dict[Slot, Identifier] = {}
    base_lines: tuple[BaseLine, ...]
    survey_template: Identifier
    outline: Outline
    controls: tuple[Sentence, ...]
    """What the driver finds and how to use it, one step a sentence."""
    lifting_points: tuple[Identifier, ...]
    """Places where the vehicle may be lifted."""
    tow_eye: Identifier
