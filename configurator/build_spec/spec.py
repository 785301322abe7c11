"""The Spec: all choices, facts and findings of a build at one moment, with what they came from."""

from __future__ import annotations

import hashlib
import json
from datetime import date
from decimal import Decimal
from typing import Literal

from configurator.build_spec.charging_result import ChargingLine
from configurator.build_spec.day_result import DayResult
from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.stated_input import BandCause
from configurator.build_spec.survey_result import SurveyResult
from configurator.build_spec.weights_result import Carrying, Heaviest, Loading, WeightCheck
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.component import Component, Slot
from configurator.catalog.models.data import Data
from configurator.catalog.models.group import OptionLook
from configurator.catalog.models.rule import CountryRule, FactName, Severity
from configurator.catalog.models.text import Text
from configurator.catalog.models.vehicle import CarriedKind, Emblem, Vehicle
from configurator.catalog.models.workshop import Workshop

ChoiceOrigin = Literal["customer", "house", "follows"]


class SpecChoice(Data):
    """A group with the option taken for it, and whose choice it was."""

    group_id: str
    group_label: str
    part_id: str
    option_id: str
    option_label: str
    summary: str
    origin: ChoiceOrigin
    look: OptionLook


class OpenGroup(Data):
    """A group still open, with the stage that closes it."""

    group_id: str
    group_label: str
    part_id: str
    closes_at: str
    """Label of the stage."""
    close_by: date
    possible_options: int


class Fact(Data):
    """A computed quantity; `low` and `high` differ while choices are open, and are exact bounds."""

    name: FactName
    case: str | None
    label: str
    unit: str
    low: float
    high: float

    @property
    def is_settled(self) -> bool:
        """Whether no open choice can move it."""
        return self.low == self.high


class PriceLine(Data):
    """A printed line [GBP with VAT]."""

    id: str
    label: str
    kind: Literal["base", "option", "survey", "provisional", "discount"]
    amount_gbp: Decimal


class StagePayment(Data):
    """What is due when a stage is reached [GBP with VAT]."""

    stage_id: str
    stage_label: str
    percent: Decimal
    amount_gbp: Decimal


class Price(Data):
    """The printed lines and their total; while choices are open the total is a from–to."""

    lines: tuple[PriceLine, ...]
    decided_gbp: Decimal
    """Sum of the printed lines."""
    total_low_gbp: Decimal
    total_high_gbp: Decimal
    vat_percent: Decimal
    vat_included_low_gbp: Decimal
    vat_included_high_gbp: Decimal
    payments: tuple[StagePayment, ...]
    """Of the total; empty while choices are open."""
    hours_low: Decimal
    hours_high: Decimal


class Axle(Data):
    """An axle's loads [kg] with the least of its limits."""

    axle: Literal["front", "rear"]
    donor_kg: float
    kerb_low_kg: float
    kerb_high_kg: float
    laden_low_kg: float
    laden_high_kg: float
    limit_low_kg: float
    limit_high_kg: float
    """The limit is a from–to while tyres or wheels are open."""
    limited_by: Literal["axle", "tyre", "wheel", "open"]
    measured_kg: float | None
    kerb_sigma_kg: float | None = None
    """Standard deviation of the computed kerb load until the axle is weighed."""
    maker_limit_kg: float | None = None
    tyres_limit_kg: float | None = None
    """Of two tyres; None while they are open or nobody named them. So are the wheels."""
    wheels_limit_kg: float | None = None
    heaviest: Heaviest | None = None


class Weights(Data):
    """Masses [kg]; kerb is without driver."""

    front: Axle
    rear: Axle
    kerb_low_kg: float
    kerb_high_kg: float
    kerb_sigma_kg: float
    laden_low_kg: float
    laden_high_kg: float
    gross_limit_kg: float
    rear_share_donor_percent: float
    rear_share_low_percent: float
    rear_share_high_percent: float
    measured_kerb_kg: float | None
    tyre_speed_km_h: float | None = None
    """By the tyres' speed symbol, of complete builds; the other by motor and gearing."""
    geared_speed_km_h: float | None = None
    loadings: tuple[Loading, ...] = ()
    """The stages of loading of a complete build, the donor first."""
    checks: tuple[WeightCheck, ...] = ()
    """What the limits of the catalog say about the weights of a complete build."""
    carrying: Carrying | None = None


class LedgerLine(Data):
    """Something taken out (negative) or put in, with its place."""

    what: str
    mass_kg: float
    place_id: str
    place_label: str
    x_m: float
    y_m: float
    z_m: float
    emblem: Emblem | None
    when: Literal["kerb", "laden"]
    kind: CarriedKind = "load"


class RangeLine(Data):
    """Range in one driving case: nine in ten likely beyond `low_km`, one in ten beyond `high_km`.

    While choices are open `low_km` is the least and `high_km` the greatest over all completions,
    and the middle and the consumption are not told.
    """

    case_id: str
    label: str
    conditions: str
    """In words: speed or cycle, temperature, load, age of the battery."""
    temperature_c: float
    low_km: float
    high_km: float
    mid_km: float | None
    consumption_wh_per_km: float | None
    aged_low_km: float | None = None
    aged_high_km: float | None = None
    """The band with the battery at the age the workshop counts with; of complete builds."""
    widened_by: tuple[BandCause, ...] = ()
    """The three inputs that widen the band most, the greatest first; of complete builds."""


class PlanStage(Data):
    """Working hours in a stage; while choices are open, group by group without regard to rules."""

    stage_id: str
    label: str
    hours_low: Decimal
    hours_high: Decimal


class Plan(Data):
    """When the work can start and the earliest handover, as a from–to."""

    start: date
    earliest_handover: date
    latest_handover: date
    """Of the earliest handovers: over open choices, and with the workshop's allowance of hours."""
    stages: tuple[PlanStage, ...]


class Finding(Data):
    """A rule or limit broken or near to it, or advice."""

    code: str
    severity: Severity
    subject: str
    """Id of the rule, limit or part it is about."""
    sentence: str
    value: float | None = None
    bound: float | None = None
    unit: str = ""
    source: str
    remedy: str


class FittedComponent(Data):
    """A component in its slot, with its data and, once known, its serial number."""

    slot: Slot
    component: Component
    serial_number: str | None


class Spec(Data):
    """Everything promised about one build at one moment."""

    schema_version: Literal[1] = 1
    build: BuildInput
    catalog_sha256: str
    tool_version: str
    workshop: Workshop
    vehicle: Vehicle
    is_complete: bool
    """No group is open."""
    choices: tuple[SpecChoice, ...]
    open_groups: tuple[OpenGroup, ...]
    facts: tuple[Fact, ...]
    price: Price
    weights: Weights
    ledger: tuple[LedgerLine, ...]
    ranges: tuple[RangeLine, ...]
    charging: tuple[ChargingLine, ...]
    electrical: tuple[ElectricalCheck, ...] = ()
    """The electrical set of a complete build."""
    performance: tuple[PerformanceLine, ...] = ()
    """What the drive of a complete build can do, each number with what limits it."""
    plan: Plan
    findings: tuple[Finding, ...]
    fitted: tuple[FittedComponent, ...]
    survey: tuple[SurveyResult, ...]
    not_surveyed: tuple[str, ...] = ()
    """Labels of the parts of the donor that nobody has looked at."""
    texts: tuple[Text, ...]
    """The texts of the pack that apply to what is chosen, placeholders filled."""
    country_rules: tuple[CountryRule, ...]
    day: DayResult | None = None
    """The customer's own day, where one is stated and can be driven."""

    def canonical_json(self) -> str:
        """Write the spec so that the same spec always gives the same bytes."""
        return json.dumps(
            self.model_dump(mode="json"), sort_keys=True, ensure_ascii=False, separators=(",", ":")
        )

    def sha256(self) -> str:
        """SHA-256 of the canonical JSON, in hexadecimal."""
        return hashlib.sha256(self.canonical_json().encode()).hexdigest()

    def fact(self, name: FactName, case: str | None = None) -> Fact | None:
        """Find a fact by name and case; None where it does not apply to what is fitted."""
        return next((f for f in self.facts if f.name == name and f.case == case), None)

    def component(self, slot: Slot) -> Component | None:
        """Find what is fitted in a slot; None when nothing is, or it is still open."""
        return next((f.component for f in self.fitted if f.slot == slot), None)

    def chosen(self, group_id: str) -> SpecChoice | None:
        """Find the choice for a group; None while it is open."""
        return next((c for c in self.choices if c.group_id == group_id), None)
