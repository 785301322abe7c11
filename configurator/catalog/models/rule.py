"""Rules, limits and rules of law: what must hold, said so that a customer may read it."""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import Field, model_validator

from configurator.catalog.models.data import Data, Identifier, Label, Sentence, Source

FactName = Literal[
    "price_gbp",
    "kerb_mass_kg",
    "kerb_front_axle_kg",
    "kerb_rear_axle_kg",
    "laden_mass_kg",
    "laden_front_axle_kg",
    "laden_rear_axle_kg",
    "front_axle_margin_kg",
    "rear_axle_margin_kg",
    "payload_kg",
    "rear_share_change_points",
    "centre_of_gravity_height_m",
    "left_share_percent",
    "rollover_threshold_g",
    "rear_braking_share_percent",
    "roof_load_kg",
    "nose_weight_kg",
    "seats",
    "range_low_km",
    "range_mid_km",
    "range_high_km",
    "consumption_wh_per_km",
    "charging_hours",
    "hill_restart_percent",
    "cruise_power_margin_kw",
    "motorway_power_margin_kw",
    "top_speed_km_h",
    "seconds_to_50_km_h",
    "seconds_to_60_mph",
    "usable_energy_kwh",
    "pack_voltage_over_v",
    "pack_voltage_under_v",
    "charger_voltage_over_v",
    "charger_voltage_under_v",
    "low_voltage_margin_w",
    "cable_margin_a",
    "fuse_margin_a",
    "fuse_over_cable_a",
    "contactor_margin_a",
    "rated_voltage_margin_v",
    "pre_charge_seconds",
    "bleed_seconds",
    "dc_inlet_voltage_over_v",
    "dc_inlet_voltage_under_v",
    "tyre_speed_margin_km_h",
    "workshop_hours",
    "handover_weeks",
]
"""Every quantity the tool computes. DEVELOPERS.md says what each means."""

Severity = Literal["blocks", "warns", "notes"]


class Rule(Data):
    """When … then … because.

    `when` holds if, for every group named, the choice is one of the options listed; then for every
    group in `then` the choice must be one of those listed, and for every group in `then_not` none.
    """

    id: Identifier
    vehicles: tuple[Identifier, ...] | None = None
    when: dict[Identifier, tuple[Identifier, ...]] = Field(min_length=1)
    then: dict[Identifier, tuple[Identifier, ...]] = {}
    then_not: dict[Identifier, tuple[Identifier, ...]] = {}
    because: Sentence
    source: Sentence | Source

    @model_validator(mode="after")
    def _says_something(self) -> Rule:
        if not self.then and not self.then_not:
            msg = 'a rule needs "then" or "then_not"'
            raise ValueError(msg)
        return self


class Limit(Data):
    """A computed fact must stay within a bound."""

    id: Identifier
    label: Label
    limit: FactName
    case: Identifier | None = None
    """The driving case or charging source, for facts that have one."""
    vehicles: tuple[Identifier, ...] | None = None
    at_most: float | str | None = None
    """A number, or `vehicle.<name>` for a number of the vehicle."""
    at_least: float | str | None = None
    severity: Literal["blocks", "warns"] = "blocks"
    near_percent: float = Field(ge=0, le=50, default=0)
    """Within this share of the bound a kept limit is noted as near."""
    stays_as_guard: bool = False
    """It may forbid nothing today and guards what is offered later; `check` stays silent."""
    because: Sentence
    source: Sentence | Source

    @model_validator(mode="after")
    def _has_one_bound(self) -> Limit:
        if (self.at_most is None) == (self.at_least is None):
            msg = 'a limit needs exactly one of "at_most" and "at_least"'
            raise ValueError(msg)
        return self


class CountryRule(Data):
    """Advice from a rule of law, dated; it informs, the authority decides."""

    id: Identifier
    country: Label
    title: Label
    advice: Sentence
    audience: Literal["owner", "workshop", "both"] = "both"
    """Who is told: the owner in the pack, the workshop on its calculation sheet."""
    authority: Label
    valid_from: date
    valid_until: date | None = None
    source: Sentence | Source
