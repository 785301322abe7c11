"""Which facts have a case, and of which kind."""

from __future__ import annotations

from typing import Literal, get_args

from configurator.catalog.models.rule import FactName

CaseKind = Literal["driving case", "charging source"]

FACT_NAMES: frozenset[str] = frozenset(get_args(FactName))

_DRIVING = frozenset({"range_low_km", "range_mid_km", "range_high_km", "consumption_wh_per_km"})
_CHARGING = frozenset({"charging_hours"})


def case_kind(fact: str) -> CaseKind | None:
    """Tell of which kind the case of a fact is; None for facts without one.

    Examples
    --------
    >>> case_kind("range_low_km"), case_kind("charging_hours"), case_kind("seats")
    ('driving case', 'charging source', None)
    """
    if fact in _DRIVING:
        return "driving case"
    return "charging source" if fact in _CHARGING else None
