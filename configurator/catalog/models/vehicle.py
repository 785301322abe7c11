"""A vehicle model as the workshop receives it: geometry, weights, limits, drag, places."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, model_validator

from configurator.catalog.guesses import BodyType, guess_vehicle
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
from configurator.catalog.plausible import value_within, within

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


CarriedKind = Literal["load", "people", "roof-load", "nose-weight"]
"""What is carried: a load in the vehicle, people on seats, a load on the roof, or what a trailer
presses on the tow ball."""


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
    kind: CarriedKind = "load"
    """Of what is carried; a rack that is fitted on the roof counts as roof load, too."""


class Work(Data):
    """Hours of one trade in one stage."""

    trade: Identifier
    hours: Hours
    stage: Identifier


class LowVoltageCircuit(Data):
    """One of the vehicle's own 12 V circuits, with its wire and fuse where they are known."""

    id: Identifier
    label: Label
    load_w: float = Field(gt=0, le=3000)
    area_mm2: float | None = Field(default=None, gt=0.2, le=120)
    run_m: float | None = Field(default=None, gt=0, le=30)
    """One way along the wire [m]."""
    fuse_a: float | None = Field(default=None, gt=0.5, le=300)


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


class DrivenConditions(Data):
    """Speeds and air in which a measured trip was driven."""

    cycle: str | None
    steady_km_h: float | None
    temperature_c: float


class MeasuredRoadLoad(Data):
    """What was measured on the vehicle, in place of what the catalog assumes."""

    heavier_kg: float = 0.0
    """What the finished vehicle weighs beyond what is computed; below 0 where it is lighter."""
    weighed_sigma_kg: float | None = Field(default=None, ge=0)
    """Standard deviation of its mass; that of the computed mass when nobody weighed it."""
    rolling_resistance: UncertainValue | None = None
    """Of the tyres that were fitted; that of the chosen tyre when absent."""
    drag_rolling_correlation: float = Field(ge=-1, le=1, default=0)
    consumption_factor: float = Field(gt=0.2, lt=5, default=1)
    """What measured trips took by what was computed."""
    doubt_left: float = Field(ge=0, le=1, default=1)
    """Share of the doubt about the consumption that they leave."""
    driven: tuple[DrivenConditions, ...] = ()
    """The conditions of those trips; both values above hold in conditions like one of them."""
    consumption_factor_elsewhere: float = Field(gt=0.2, lt=5, default=1)
    """What those trips say of conditions unlike all of them."""
    doubt_left_elsewhere: float = Field(ge=0, le=1, default=1)


class Vehicle(Data):
    """One model of donor vehicle that the workshop converts."""

    id: Identifier
    label: Label
    year: int = Field(ge=1900, le=2100)
    kind: Label
    body_type: BodyType | None = None
    """What drag area, heat loss and 12 V circuits are guessed from where they are left out."""
    introduction: Sentence
    source: Sentence | Source
    wheelbase_m: Annotated[float, within("wheelbase_m")]
    track_m: Annotated[float, within("track_m")]
    length_m: Annotated[float, within("length_m")]
    width_m: Annotated[float, within("width_m")]
    height_m: Annotated[float, within("height_m")]
    front_overhang_m: Annotated[float, within("front_overhang_m")]
    donor_front_axle_kg: Annotated[float, within("donor_front_axle_kg")]
    donor_rear_axle_kg: Annotated[float, within("donor_rear_axle_kg")]
    front_axle_limit_kg: Annotated[float, within("front_axle_limit_kg")]
    rear_axle_limit_kg: Annotated[float, within("rear_axle_limit_kg")]
    gross_mass_limit_kg: Annotated[float, within("gross_mass_limit_kg")]
    mass_sigma_kg: Annotated[float, within("mass_sigma_kg")]
    """Standard deviation of the computed kerb mass until the vehicle is weighed [kg]."""
    measured_road_load: MeasuredRoadLoad = MeasuredRoadLoad()
    measured_capacity_kwh: UncertainValue | None = None
    """Of the battery that was fitted; that of the pack when nobody measured it."""
    donor_cg_height_m: Annotated[UncertainValue, value_within("donor_cg_height_m")] | None = None
    """Height of the empty donor's centre of gravity; guessed from its roof where nobody knows."""
    roof_load_limit_kg: float | None = Field(default=None, ge=0, le=500)
    """What the roof may carry, its rack among it."""
    tow_ball_limit_kg: float | None = Field(default=None, ge=0, le=350)
    """What a trailer may press on the tow ball."""
    rear_brake_share_percent: float | None = Field(default=None, gt=0, lt=100)
    """The share of all braking that the brakes send to the rear axle, by their sizes."""
    driven_axle: Literal["front", "rear"]
    recovery_full_from_km_h: Annotated[float, within("recovery_full_from_km_h")] = 12
    """Speed from which the motor brakes with its whole share; below, friction brakes do more."""
    drag_area_m2: Annotated[UncertainValue, value_within("drag_area_m2")]
    auxiliary_power_w: Annotated[UncertainValue, value_within("auxiliary_power_w")]
    cabin_heat_loss_w_per_k: Annotated[UncertainValue, value_within("cabin_heat_loss_w_per_k")]
    cabin_heat_capacity_kj_per_k: Annotated[float, within("cabin_heat_capacity_kj_per_k")] = 0
    """What warms up with the cabin: air, trim, seats, sheet metal inside its lining."""
    base_low_voltage_load_w: Annotated[float, within("base_low_voltage_load_w")]
    low_voltage_circuits: tuple[LowVoltageCircuit, ...] = ()
    """What that load is made of; where they are stated, they sum to it."""
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
    guessed: dict[str, Label] = {}
    """Field that was left out → what its value was guessed from."""

    @model_validator(mode="before")
    @classmethod
    def _guess(cls, written: object) -> object:
        return guess_vehicle(written) if isinstance(written, Mapping) else written
