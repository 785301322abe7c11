"""Which facts are computed while choices are open."""

from __future__ import annotations

from collections.abc import Callable

from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import FactName

Wanted = Callable[[FactName, str | None], bool]

LEFT_TO_THE_SPEC: frozenset[FactName] = frozenset(
    {
        "centre_of_gravity_height_m",
        "left_share_percent",
        "rollover_threshold_g",
        "rear_braking_share_percent",
    }
)
"""Facts that the talk leaves out while choices are open; a complete build has them all."""


def every_fact(_name: FactName, _case: str | None) -> bool:
    """Want every fact, as a Spec that is handed out does."""
    return True


def shown_in_the_talk(catalog: Catalog) -> Wanted:
    """Want the headline cases, overnight charging, and what a limit warns of."""
    workshop = catalog.workshop
    shown = {*workshop.headline_cases, workshop.overnight_source}
    warned = {
        (limit.limit, limit.case)
        for limit in catalog.limits
        if limit.severity == "warns" and limit.limit not in LEFT_TO_THE_SPEC
    }
    return lambda name, case: case in shown or (name, case) in warned
