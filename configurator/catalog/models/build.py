"""What is known of one build: customer, donor, choices, survey, what was measured."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from configurator.catalog.models.as_built import RecordId, ToldQuantity
from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import Data, Identifier, Money
from configurator.catalog.models.day import CustomersDay
from configurator.catalog.models.measurements import Measurements
from configurator.catalog.models.rule import FactName
from configurator.catalog.plausible import within

PersonText = Annotated[str, StringConstraints(max_length=200, strip_whitespace=True)]
"""A name or a line that a person typed; never trusted as markup."""

LongPersonText = Annotated[str, StringConstraints(max_length=2000, strip_whitespace=True)]

BuildReference = Annotated[str, StringConstraints(pattern=r"^B-[0-9]{4,6}$")]


class Customer(Data):
    """Whom the build is for."""

    name: Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]
    contact: PersonText = ""


class Donor(Data):
    """The vehicle as it came in; weights replace the catalog's when it was weighed."""

    description: LongPersonText = ""
    identity_mark: PersonText = ""
    front_axle_kg: Annotated[float, within("front_axle_kg")] | None = None
    rear_axle_kg: Annotated[float, within("rear_axle_kg")] | None = None
    left_side_kg: Annotated[float, within("front_axle_kg")] | None = None
    right_side_kg: Annotated[float, within("rear_axle_kg")] | None = None
    """The wheels of each side together; a donor is taken as symmetric where nobody weighed them."""
    weighed_on: date | None = None

    @property
    def axles_were_weighed(self) -> bool:
        """Whether both loads are known as weighed; one alone counts for nothing."""
        return self.front_axle_kg is not None and self.rear_axle_kg is not None

    @property
    def sides_were_weighed(self) -> bool:
        """Whether the wheels of both sides were."""
        return self.left_side_kg is not None and self.right_side_kg is not None


class SecondDonor(Data):
    """Another vehicle that gives parts; the first one gives the identity and the axle loads."""

    description: LongPersonText = ""
    identity_mark: PersonText = ""


Verdict = Literal["keep", "repair", "replace"]


class SurveyLine(Data):
    """The verdict on one part of the donor; a part without a line was not looked at."""

    part: Identifier
    verdict: Verdict
    from_second_donor: bool = False
    """The part is taken from the second donor."""
    hours: Annotated[Decimal, Field(ge=0, le=2000, decimal_places=1)] | None = None
    parts_gbp: Money | None = None
    provisional_gbp: Money = Field(default="0.00", validate_default=True)
    """A provisional sum, settled when the hidden is seen; without VAT."""
    origin: PersonText = ""
    note: LongPersonText = ""


class Discount(Data):
    """A discount [GBP with VAT], always with its reason."""

    amount_gbp: Money
    reason: Annotated[str, StringConstraints(min_length=3, max_length=200, strip_whitespace=True)]


class MeasuredRecord(Data):
    """One test or measurement on the finished vehicle."""

    id: RecordId
    label: PersonText
    value: LongPersonText
    limit: LongPersonText = ""
    instrument: PersonText = ""
    calibrated_until: date | None = None
    measured_on: date
    by: PersonText
    in_tolerance: bool | None = None
    """None where nobody held it against its limits."""
    why: LongPersonText = ""
    """It is not within them."""
    source: LongPersonText = ""
    """Of the limits."""
    tells: tuple[ToldQuantity, ...] = ()
    """What range and loads are computed from."""


class RecordToMake(Data):
    """A test or measurement that the finished vehicle still needs."""

    label: PersonText
    limit: LongPersonText = ""
    source: LongPersonText = ""


class OrderedFact(Data):
    """What the issued spec promised, to stand beside what follows from measured values."""

    name: FactName
    case: Identifier | None = None
    label: PersonText
    unit: PersonText
    low: float
    high: float


class AsBuilt(Data):
    """What was measured and fitted."""

    front_axle_kg: Annotated[float, within("front_axle_kg")] | None = None
    rear_axle_kg: Annotated[float, within("rear_axle_kg")] | None = None
    pack_capacity_kwh: Annotated[float, within("pack_capacity_kwh")] | None = None
    pack_capacity_sigma_percent: float | None = Field(default=None, gt=0, le=20)
    """By the instrument; that of common practice when nobody states it."""
    serial_numbers: dict[Slot, PersonText] = {}
    records: tuple[MeasuredRecord, ...] = ()
    to_make: tuple[RecordToMake, ...] = ()
    ordered: tuple[OrderedFact, ...] = ()
    """There once records are kept in the build's book; they then tell what is still to be made."""

    @property
    def weighed_kg(self) -> float | None:
        """Both axles together; None where one or both were not weighed."""
        if self.front_axle_kg is None or self.rear_axle_kg is None:
            return None
        return self.front_axle_kg + self.rear_axle_kg


class Wish(Data):
    """What the customer would like a fact to reach; it binds nobody."""

    fact: FactName
    case: Identifier | None = None
    """The driving case or charging source, for facts that have one."""
    at_least: float | None = Field(default=None, allow_inf_nan=False)
    at_most: float | None = Field(default=None, allow_inf_nan=False)

    @model_validator(mode="after")
    def _has_one_target(self) -> Wish:
        if (self.at_least is None) == (self.at_most is None):
            msg = 'a wish needs exactly one of "at_least" and "at_most"'
            raise ValueError(msg)
        return self


class Preference(Data):
    """An option the customer would like to have, if it can be had."""

    group: Identifier
    option: Identifier


class BuildInput(Data):
    """Everything that the pure pipeline needs besides the catalog."""

    reference: BuildReference
    customer: Customer
    vehicle: Identifier
    priced_on: Annotated[date, Field(ge=date(2000, 1, 1), le=date(2100, 1, 1))]
    choices: dict[Identifier, Identifier] = {}
    """Group → option, as the customer chose."""
    house_choices_for_the_rest: bool = False
    """Fill every open group with the nearest possible to the workshop's house choices."""
    must_keep: tuple[Identifier, ...] = ()
    """Groups whose choice no way out may alter; each has a choice."""
    wishes: tuple[Wish, ...] = ()
    preferences: tuple[Preference, ...] = ()
    """The dearest first."""
    measurements: Measurements = Measurements()
    day: CustomersDay | None = None
    """What the customer wants to drive in one day."""
    donor: Donor = Donor()
    second_donor: SecondDonor | None = None
    survey: tuple[SurveyLine, ...] = ()
    discount: Discount | None = None
    as_built: AsBuilt | None = None
    notes: LongPersonText = ""
