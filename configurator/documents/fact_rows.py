"""Facts of a spec as rows of label and figure, each marked as computed."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.spec import Fact, Spec
from configurator.catalog.models.rule import FactName
from configurator.documents.figures import span

_COUNTED: frozenset[FactName] = frozenset({"seats"})
_IN_TENTHS: frozenset[FactName] = frozenset({"usable_energy_kwh", "cruise_power_margin_kw"})


def fact_rows(spec: Spec, names: Sequence[FactName]) -> list[tuple[str, str]]:
    """List the facts that apply, in the order asked for; others are left out."""
    found = (spec.fact(name) for name in names)
    return [(fact.label, _figure(fact)) for fact in found if fact is not None]


def _figure(fact: Fact) -> str:
    figure = span(fact.low, fact.high, 1 if fact.name in _IN_TENTHS else 0)
    if fact.name in _COUNTED:
        return figure
    return f"{figure} {fact.unit}".rstrip() + ", computed"
