"""What is measured, tested and read on the finished vehicle before it is handed over."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import Discriminator, Field, StringConstraints, Tag, model_validator

from configurator.catalog.models.data import Data, Identifier, Label, Sentence, Source
from configurator.catalog.models.text import AppliesIf

Unit = Annotated[str, StringConstraints(max_length=12, strip_whitespace=True)]

ComputedName = Literal[
    "kerb-front-axle-kg",
    "kerb-front-axle-least-kg",
    "kerb-front-axle-most-kg",
    "kerb-rear-axle-kg",
    "kerb-rear-axle-least-kg",
    "kerb-rear-axle-most-kg",
    "front-axle-limit-kg",
    "rear-axle-limit-kg",
    "pack-capacity-kwh",
    "full-voltage-v",
    "isolation-kohm",
    "inlet-isolation-kohm",
    "bonding-ohm",
    "pre-charge-seconds",
    "pre-charge-within-seconds",
    "bleed-seconds",
    "bleed-within-seconds",
    "overnight-pilot-percent",
    "main-fuse-a",
    "tyre-load-index",
]
"""What is computed for the very build that a measured value can be held against."""

COMPUTED_UNITS: Mapping[ComputedName, str] = MappingProxyType(
    {
        "kerb-front-axle-kg": "kg",
        "kerb-front-axle-least-kg": "kg",
        "kerb-front-axle-most-kg": "kg",
        "kerb-rear-axle-kg": "kg",
        "kerb-rear-axle-least-kg": "kg",
        "kerb-rear-axle-most-kg": "kg",
        "front-axle-limit-kg": "kg",
        "rear-axle-limit-kg": "kg",
        "pack-capacity-kwh": "kWh",
        "full-voltage-v": "V",
        "isolation-kohm": "kΩ",
        "inlet-isolation-kohm": "kΩ",
        "bonding-ohm": "Ω",
        "pre-charge-seconds": "s",
        "pre-charge-within-seconds": "s",
        "bleed-seconds": "s",
        "bleed-within-seconds": "s",
        "overnight-pilot-percent": "%",
        "main-fuse-a": "A",
        "tyre-load-index": "",
    }
)

ToldQuantity = Literal["front-axle-kg", "rear-axle-kg", "pack-capacity-kwh"]
"""What range and loads are computed from once it is measured."""

TOLD_UNITS: Mapping[ToldQuantity, str] = MappingProxyType(
    {"front-axle-kg": "kg", "rear-axle-kg": "kg", "pack-capacity-kwh": "kWh"}
)

RESERVED_IDS = frozenset({"serial-number", "weighbridge"})
"""Asked for without being listed; a record of the catalog cannot take their names."""

MARKS_OF = "marks-of-"
"""Before the id of a part of the survey, the record of the maker and marks read on it."""

MARKS_LABEL = "{part}: maker and marks"
"""What that record is called."""

RecordId = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
"""Of a record of the catalog, or of one that is asked for without being listed."""


class ComputedBound(Data):
    """A bound that follows from what is computed for the build."""

    of: ComputedName
    percent: float = Field(default=100, gt=0, le=1000)
    plus: float = Field(default=0, ge=-10_000, le=10_000)
    """Added after the percentage; below 0 it is taken away."""

    @model_validator(mode="before")
    @classmethod
    def _named_alone(cls, written: object) -> object:
        return {"of": written} if isinstance(written, str) else written


def _kind_of_bound(written: object) -> str:
    return "computed" if isinstance(written, str | Mapping | ComputedBound) else "number"


Bound = Annotated[
    Annotated[float, Field(ge=-1e9, le=1e9), Tag("number")]
    | Annotated[ComputedBound, Tag("computed")],
    Discriminator(_kind_of_bound),
]
"""A number, or what is computed: its name alone, or with a percentage and what is added."""


class RecordValue(Data):
    """One value of a record: a number, words, or yes or no."""

    id: Identifier
    label: Label
    kind: Literal["number", "text", "yes-no"] = "number"
    unit: Unit = ""
    at_least: Bound | None = None
    at_most: Bound | None = None
    tells: ToldQuantity | None = None
    """Range and loads are computed from it once it is measured."""
    sigma_percent: float | None = Field(default=None, gt=0, le=20)
    """Standard deviation of the measured capacity, by the instrument that is used."""

    @model_validator(mode="after")
    def _fits_its_kind(self) -> RecordValue:
        is_bounded = self.at_least is not None or self.at_most is not None
        if self.kind != "number" and (is_bounded or self.tells or self.unit):
            msg = 'bounds, "tells" and "unit" belong to a number'
            raise ValueError(msg)
        if self.sigma_percent is not None and self.tells != "pack-capacity-kwh":
            msg = '"sigma_percent" belongs to the value that tells the pack\'s capacity'
            raise ValueError(msg)
        return self


class RecordTemplate(Data):
    """A measurement, test or reading that a finished vehicle must have on record."""

    id: Identifier
    label: Label
    stage: Identifier
    """In which it is made."""
    applies_if: AppliesIf = AppliesIf()
    country: Label | None = None
    """Only where the workshop is in that country."""
    values: tuple[RecordValue, ...] = Field(min_length=1, max_length=12)
    needs_instrument: bool = True
    needs_calibration: bool = True
    """The instrument has a day until which its calibration counts."""
    blocks: bool = True
    """Without it, or out of tolerance, the vehicle is not handed over."""
    because: Sentence
    source: Sentence | Source

    @model_validator(mode="after")
    def _names_what_is_calibrated(self) -> RecordTemplate:
        if self.needs_calibration and not self.needs_instrument:
            msg = '"needs_calibration" asks for an instrument; write "needs_calibration: false" too'
            raise ValueError(msg)
        return self
