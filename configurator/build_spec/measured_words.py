"""What stands behind a range besides the catalog: what was measured on the road."""

from __future__ import annotations

from datetime import date

from configurator.catalog.models.vehicle import Vehicle

COAST_DOWN = "coast-down of "
"""Begins the source of a value that a coast-down gave; the day follows."""

ON_THE_ROAD = "measured on the road"


def coast_down_source(measured_on: date) -> str:
    """Write the source of a value that a coast-down gave."""
    return f"{COAST_DOWN}{measured_on.isoformat()}"


def measured_words(vehicle: Vehicle) -> str:
    """Say what was measured on the road and counts in the range of a vehicle.

    Parameters
    ----------
    vehicle : Vehicle
        As measured.

    Returns
    -------
    str
        Such as "measured on the road: coast-down of 2 March 2026; measured trips"; empty where
        nothing counts.
    """
    drag, found = vehicle.drag_area_m2, []
    source = drag.source if isinstance(drag.source, str) else ""
    if drag.basis == "measured" and source.startswith(COAST_DOWN):
        found.append(_with_its_day(source))
    if vehicle.measured_road_load.driven:
        found.append("measured trips")
    return f"{ON_THE_ROAD}: {' and '.join(found)}" if found else ""


def _with_its_day(source: str) -> str:
    day = date.fromisoformat(source.removeprefix(COAST_DOWN))
    return f"{COAST_DOWN}{day.day} {day:%B %Y}"
