"""The workshop: who it is, its rates, VAT, stages, parts of the talk, driving cases, survey."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from configurator.catalog.models.data import (
    Data,
    Identifier,
    Label,
    Money,
    Pence,
    Sentence,
    Source,
)
from configurator.catalog.models.day import DayRoads
from configurator.catalog.plausible import within


class Trade(Data):
    """A trade of the workshop with its hourly rate [GBP/h], without VAT."""

    id: Identifier
    label: Label
    rate_gbp_per_hour: Money


class TalkPart(Data):
    """A part of the consultation; three or four groups each."""

    id: Identifier
    label: Label
    introduction: Sentence


class Vat(Data):
    """Value-added tax from a day on."""

    percent: Decimal = Field(ge=0, le=40, decimal_places=2)
    valid_from: date
    source: Sentence | Source


RoleId = Literal["consultant", "engineer", "manager", "second-person"]


class Role(Data):
    """A hat somebody wears in the workshop."""

    id: RoleId
    label: Label


SpecSection = Literal[
    "customer",
    "choices",
    "price",
    "weights",
    "ranges",
    "charging",
    "electrical",
    "performance",
    "plan",
    "survey",
    "fitted",
    "texts",
    "findings",
]


class SignOff(Data):
    """Something a person in a role answers for before a spec counts."""

    id: Identifier
    label: Label
    role: RoleId
    covers: tuple[SpecSection, ...] = Field(min_length=1)
    """The sections of the spec; when a later letter changes one of them, it is signed again."""
    statement: Sentence
    """What the signature says."""
    source: Sentence | Source


class Age(Data):
    """The age at which a range with an aged battery is told."""

    years: int = Field(gt=0, le=30, default=8)
    km: int = Field(gt=0, le=1_000_000, default=120_000)


class Tariff(Data):
    """What a kilowatt-hour costs, with the day the price was looked up."""

    id: Identifier
    label: Label
    where: Literal["home", "public"]
    """At which charging sources it applies."""
    pence_per_kwh: Pence
    """With VAT."""
    checked_on: date
    source: Sentence | Source


class Retention(Data):
    """How long records are kept; past it they are listed for removal, never removed silently."""

    enquiry_months: int = Field(gt=0, le=120, default=12)
    """Of enquiries that came to nothing, since they were last changed."""
    source: Sentence | Source = "common practice, no source; ask an adviser on data protection"


class DatedTerms(Data):
    """The workshop's terms from a day on."""

    valid_from: date
    sentences: tuple[Sentence, ...] = Field(min_length=1)
    source: Sentence | Source


class Workshop(Data):
    """Who builds, at what rates, with what capacity."""

    name: Label
    place: Label
    strapline: Sentence
    contact: Sentence
    emergency_contact: Sentence
    is_invented: bool
    """Marks every screen and page as a demonstration."""
    country: Label
    currency: Literal["GBP"]
    vat: tuple[Vat, ...] = Field(min_length=1)
    trades: tuple[Trade, ...] = Field(min_length=1)
    talk: tuple[TalkPart, ...] = Field(min_length=1)
    roles: tuple[Role, ...] = Field(min_length=1)
    sign_offs: tuple[SignOff, ...] = ()
    """What is signed within the workshop before a spec counts, in order."""
    hours_per_week: Decimal = Field(gt=0, le=1000, decimal_places=1)
    """Working hours a week that go into one build."""
    queue_weeks: int = Field(ge=0, le=200)
    """Weeks from order until the build may start."""
    hours_allowance_percent: float = Field(ge=0, le=100)
    """How much longer the work may take, for the later end of the finish."""
    quotation_valid_days: int = Field(gt=0, le=365)
    headline_cases: tuple[Identifier, ...] = Field(min_length=1, max_length=3)
    """The driving cases that the summary shows."""
    aged: Age = Age()
    """What `aged_capacity_percent` of the packs stands for."""
    overnight_source: Identifier
    """The charging source that the summary shows."""
    cold_morning_c: Annotated[float, within("cold_morning_c")] = 0
    """Of the battery's cells, for the charging time on a cold morning."""
    tariffs: tuple[Tariff, ...] = ()
    day: DayRoads = DayRoads()
    terms: tuple[DatedTerms, ...]
    """In any order; those with the latest `valid_from` that has come are in force."""
    exclusions: tuple[Sentence, ...]
    retention: Retention = Retention()
    source: Sentence | Source

    def terms_on(self, day: date) -> DatedTerms | None:
        """Find the terms in force on a day; None where there were none yet."""
        in_force = [terms for terms in self.terms if terms.valid_from <= day]
        return max(in_force, key=lambda terms: terms.valid_from, default=None)


class Stage(Data):
    """A stage of the build, in order, with the share of the price due when it is reached."""

    id: Identifier
    label: Label
    due_percent: Decimal = Field(ge=0, le=100, decimal_places=2)
    late_change_percent: Decimal = Field(ge=0, le=100, decimal_places=1, default=Decimal(0))
    """What another choice costs on top in this stage: of the dearer of the two."""


class DrivingCase(Data):
    """A way of driving for which a range is told."""

    id: Identifier
    label: Label
    cycle: Identifier | None = None
    """A standard cycle, or none for a steady speed."""
    steady_km_h: Annotated[float, within("steady_km_h")] | None = None
    temperature_c: Annotated[float, within("temperature_c")]
    cabin_c: Annotated[float, within("cabin_c")] = 20
    pack_c: Annotated[float, within("pack_c")] | None = None
    """Of the battery's cells; as cold or warm as the air when absent."""
    km_between_starts: float | None = Field(gt=0.5, le=1000, default=None)
    """After how many kilometres the cabin is cold again; never when absent."""
    altitude_m: Annotated[float, within("altitude_m")] = 0
    load: Literal["driver", "laden"] = "driver"
    battery: Literal["new", "aged"] = "new"


class SurveyPart(Data):
    """A panel or part that the survey looks at, with the workshop's usual figures."""

    id: Identifier
    label: Label
    area: Literal["body", "chassis", "running-gear", "brakes", "interior", "electrical"]
    trade: Identifier
    stage: Identifier
    repair_hours: Annotated[Decimal, Field(ge=0, le=500, decimal_places=1)]
    repair_parts_gbp: Money
    replace_hours: Annotated[Decimal, Field(ge=0, le=500, decimal_places=1)]
    replace_parts_gbp: Money
    origin_must_be_known: bool = False
    """Brake, steering and restraint parts of unknown origin block the handover."""


class SurveyTemplate(Data):
    """The parts of one vehicle that are surveyed."""

    id: Identifier
    parts: tuple[SurveyPart, ...] = Field(min_length=1)
