"""What every piece of catalog data shares: frozen, no unknown keys, bounded text, a source."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

from configurator.catalog.plausible import within


class Data(BaseModel):
    """A frozen record; a key nobody knows is a fault, never ignored; so is a number without end."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


def _refuse_unquoted(value: object) -> object:
    if isinstance(value, float):
        msg = 'write money as a quoted decimal, such as "1250.00"'
        raise ValueError(msg)  # noqa: TRY004  pydantic gathers ValueError, not TypeError
    return value


Identifier = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
"""A permanent id in kebab-case."""

Label = Annotated[str, StringConstraints(min_length=1, max_length=80, strip_whitespace=True)]
"""A short name that people see."""

Sentence = Annotated[str, StringConstraints(min_length=1, max_length=600, strip_whitespace=True)]
"""A sentence or three that people read."""

Money = Annotated[
    Decimal,
    BeforeValidator(_refuse_unquoted),
    Field(ge=0, le=1_000_000, max_digits=9, decimal_places=2),
]
"""An amount [GBP] without VAT, a quoted decimal."""

Pence = Annotated[
    Decimal,
    BeforeValidator(_refuse_unquoted),
    within("pence_per_kwh"),
    Field(max_digits=5, decimal_places=2),
]
"""A price of a kilowatt-hour [p/kWh], a quoted decimal."""

Hours = Annotated[Decimal, Field(gt=0, le=2000, decimal_places=1)]
"""Working hours, to a tenth."""


class Source(Data):
    """Where a value comes from and when somebody last looked."""

    title: Sentence
    clause: Label | None = None
    checked_on: date | None = None


Basis = Literal["measured", "catalog", "guessed"]
"""How a value is known: measured on this vehicle or part, stated by the catalog (a data sheet, a
handbook), or guessed from what kind of thing it is."""


class UncertainValue(Data):
    """A value with its standard deviation [% of the value] and where it comes from."""

    value: float = Field(ge=0)
    sigma_percent: Annotated[float, within("sigma_percent")]
    basis: Basis = "catalog"
    source: Sentence | Source
