"""A surveyed part of the donor, as the Spec tells it."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from configurator.catalog.models.data import Data


class SurveyResult(Data):
    """A surveyed part with what it costs [GBP with VAT] and where it comes from."""

    part_id: str
    label: str
    area: str
    verdict: Literal["keep", "repair", "replace"]
    hours: Decimal
    amount_gbp: Decimal
    provisional_gbp: Decimal
    origin: str
    note: str
