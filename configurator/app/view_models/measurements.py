"""Measurements for the screen: pasted lines read, kept ones written back, the fit in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from configurator.app.view_models.measured_lines import read_runs, read_trips
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.measurements import CoastDown, Measurements
from configurator.catalog.models.text import SafetyMessage
from configurator.errors import ChoiceError
from configurator.workflow.measurements import Assumed, RoadLoadCompared

NOT_ASSUMED = "not assumed yet"
DONOR_TYRES = "not compared: the donor’s tyres do not stay"
UNITS = {"Drag area": ("m²", 3), "Rolling resistance": ("", 4)}
"""Label → unit, and digits after the point."""

FAR_IN_SIGMAS = 3.0
"""Beyond so many standard deviations a difference is hardly chance; common practice, no source."""

VehicleWas = Literal["donor", "finished"]
VEHICLE_WAS: dict[VehicleWas, str] = {
    "donor": "The donor as it came in",
    "finished": "The finished vehicle",
}
COAST_DOWN_CARE = SafetyMessage(
    signal="warning",
    hazard="A vehicle rolls out of gear on a road with others.",
    consequence="A collision: somebody is hurt or killed.",
    avoid=(
        "Use a closed, level road with room to run out.",
        "Have a second person watch the road; the driver does not read or write.",
        "Check the brakes first and keep them ready; steering and brake help stay on.",
        "Carry no passengers without need.",
        "A test for approval follows its standard (ISO 10521-1, SAE J1263) and a competent person.",
    ),
)


@dataclass(frozen=True)
class TypedMeasurements:
    """The entries as they stand on the page."""

    vehicle_was: VehicleWas
    measured_on: date
    mass_kg: float | None
    """None until somebody writes what was weighed."""
    temperature_c: float | None
    altitude_m: float | None
    runs: str
    trips: str


@dataclass(frozen=True)
class ComparedRow:
    """One value as measured and as the catalog assumed it."""

    label: str
    measured: str
    assumed: str
    verdict: str


def kinds_offered(build: BuildInput) -> tuple[VehicleWas, ...]:
    """Tell what can have been driven: the finished vehicle only once its axles were weighed.

    What is kept stays on offer.
    """
    kept = build.measurements.coast_down
    is_built = build.as_built is not None and build.as_built.weighed_kg is not None
    if is_built or (kept is not None and kept.vehicle_was == "finished"):
        return ("donor", "finished")
    return ("donor",)


def typed_from(
    kept: Measurements, *, today: date, vehicle_was: VehicleWas = "donor"
) -> TypedMeasurements:
    """Spread what is kept over the entries; without a coast-down they show what is usual.

    No mass is usual: it moves the drag as much as itself.
    """
    test = kept.coast_down
    trips = "\n".join(
        f"{trip.case}; {trip.km:.10g}; {trip.energy_kwh:.10g}; {trip.driven_on.isoformat()}"
        for trip in kept.trips
    )
    if test is None:
        return TypedMeasurements(vehicle_was, today, None, 15.0, 0.0, "", trips)
    return TypedMeasurements(
        test.vehicle_was,
        test.measured_on,
        test.mass_kg,
        test.temperature_c,
        test.altitude_m,
        _runs_text(test),
        trips,
    )


def measurements_written(
    typed: TypedMeasurements, case_labels: Mapping[str, str]
) -> dict[str, object]:
    """Write the entries as the workflow reads them.

    Parameters
    ----------
    typed : TypedMeasurements
        As they stand; no runs mean no coast-down.
    case_labels : mapping
        Id → label of the driving cases; a line may name either.

    Raises
    ------
    ChoiceError
        Naming every line that cannot be read, with what to do.
    """
    runs, run_faults = read_runs(typed.runs)
    trips, trip_faults = read_trips(typed.trips, case_labels)
    if run_faults or trip_faults:
        raise ChoiceError([*run_faults, *trip_faults])
    coast_down = {
        "vehicle_was": typed.vehicle_was,
        "measured_on": typed.measured_on,
        "mass_kg": typed.mass_kg,
        "temperature_c": typed.temperature_c,
        "altitude_m": typed.altitude_m,
        "runs": runs,
    }
    return {"coast_down": coast_down if runs else None, "trips": trips}


def with_note(written: Mapping[str, object], kept: Measurements) -> dict[str, object]:
    """Leave the note of a kept coast-down with it, since the page does not show it."""
    test = written["coast_down"]
    if isinstance(test, dict) and kept.coast_down is not None:
        test = {**test, "note": kept.coast_down.note}
    return {**written, "coast_down": test}


def compared_rows(compared: RoadLoadCompared, was: VehicleWas) -> tuple[ComparedRow, ...]:
    """Say the fitted drag area and rolling resistance against what the catalog assumed."""
    fit = compared.fit
    missing = DONOR_TYRES if was == "donor" else NOT_ASSUMED
    drag = Assumed(fit.drag_area_m2, fit.drag_area_sigma_m2)
    rolling = Assumed(fit.rolling_resistance, fit.rolling_resistance_sigma)
    return (
        _row("Drag area", drag, compared.drag_area_m2, NOT_ASSUMED),
        _row("Rolling resistance", rolling, compared.rolling_resistance, missing),
    )


def needs_a_yes(compared: RoadLoadCompared, was: VehicleWas) -> bool:
    """Tell whether what was measured is so far from the catalog that somebody must say yes to it.

    Examples
    --------
    >>> from configurator.physics.coast_down import CoastDownFit
    >>> fit = CoastDownFit(0.9, 0.012, 0.03, 0.0004, -0.9)
    >>> near, far = Assumed(0.95, 0.05), Assumed(1.4, 0.05)
    >>> needs_a_yes(RoadLoadCompared(fit, near, None, counts_now=True), "donor")
    False
    >>> needs_a_yes(RoadLoadCompared(fit, far, None, counts_now=True), "donor")
    True
    """
    rolling = None if was == "donor" else compared.rolling_resistance
    fit = compared.fit
    pairs = (
        (Assumed(fit.drag_area_m2, fit.drag_area_sigma_m2), compared.drag_area_m2),
        (Assumed(fit.rolling_resistance, fit.rolling_resistance_sigma), rolling),
    )
    return any(
        abs(found.value - assumed.value) > FAR_IN_SIGMAS * math.hypot(found.sigma, assumed.sigma)
        for found, assumed in pairs
        if assumed is not None
    )


def compared_note(compared: RoadLoadCompared, was: VehicleWas) -> str:
    """Say what a kept coast-down counts for."""
    if was == "donor":
        return (
            "Kept, the drag area takes the place of the catalog’s, for every choice. The rolling "
            "resistance stays that of the chosen tyres."
        )
    if not compared.counts_now:
        return (
            "Choices are still open. What was measured on the finished vehicle counts once "
            "everything on it is chosen."
        )
    return (
        "Kept, both take the place of what the catalog assumes, while all is chosen. Another "
        "choice makes it another vehicle: measure again."
    )


def _row(label: str, found: Assumed, assumed: Assumed | None, missing: str) -> ComparedRow:
    unit, digits = UNITS[label]
    measured = _said(found, unit, digits)
    if assumed is None:
        return ComparedRow(label, measured, missing, "")
    off = found.value - assumed.value
    doubt = math.hypot(found.sigma, assumed.sigma)
    percent = f"{abs(100 * off / assumed.value):.0f} %" if assumed.value > 0 else ""
    side = "more" if off > 0 else "less"
    verdict = f"{percent} {side}".strip()
    if abs(off) > 2 * doubt:
        verdict += ": beyond what doubt explains; look for a reason before it is kept"
    return ComparedRow(label, measured, _said(assumed, unit, digits), verdict)


def _said(value: Assumed, unit: str, digits: int) -> str:
    least = 10**-digits
    spread = 2 * value.sigma
    doubt = f"{spread:.{digits}f}" if spread >= least / 2 else f"less than {least:g}"
    return f"{value.value:.{digits}f} ± {doubt} {unit}".rstrip()


def _runs_text(test: CoastDown) -> str:
    runs: Sequence[str] = [
        "\n".join(
            f"{time:.10g} {speed:.10g}"
            for time, speed in zip(run.time_s, run.speed_km_h, strict=True)
        )
        for run in test.runs
    ]
    return "\n\n".join(runs)
