"""Drag area and rolling resistance of a vehicle, from how it slows when it rolls out of gear.

In outline after ISO 10521-1 and SAE J1263 (from memory). A test for approval follows those
standards themselves; this one serves to narrow a range.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from configurator.errors import Fault, MeasurementError
from configurator.physics.coast_down_curve import UNBOUNDED_M_S, fit_curve
from configurator.physics.measurement import FINITE, NOT_NEGATIVE, POSITIVE, broken, require
from configurator.physics.road_vehicle import ROTATING_MASS_FACTOR
from configurator.units import KM_H_PER_M_S, STANDARD_GRAVITY_M_S2

Floats = NDArray[np.float64]

FEWEST_SAMPLES = 8
FEWEST_IN_RUN = 4
LEAST_SPAN = 1.5
"""Greatest by least speed: below it drag and rolling resistance cannot be told apart."""

LEAST_TOP_M_S = 40 / KM_H_PER_M_S
"""Below 40 km/h air slows a vehicle too little to be measured. From memory."""

LEAST_SHARE = 1e-3
"""Of what slows a vehicle at the greatest speed air and tyres each have more; less is what the
arithmetic leaves of nothing. Common practice, no source."""

MOST_DOUBT = 0.5
"""A value with more doubt than that share of it is no measurement. Common practice, no source."""


@dataclass(frozen=True)
class CoastDownRun:
    """One run: times [s] and speeds [m/s], as many of one as of the other."""

    time_s: tuple[float, ...]
    speed_m_s: tuple[float, ...]


@dataclass(frozen=True)
class CoastDownFit:
    """What the runs say, with standard deviations and the correlation of the two errors."""

    drag_area_m2: float
    rolling_resistance: float
    drag_area_sigma_m2: float
    rolling_resistance_sigma: float
    correlation: float


def fit_coast_down(
    runs: Sequence[CoastDownRun],
    *,
    mass_kg: float,
    air_density_kg_m3: float,
    rotating_mass_factor: float = ROTATING_MASS_FACTOR,
) -> CoastDownFit:
    """Fit drag area and rolling resistance to coast-down runs.

    Each run has a slowing of its own that no speed moves: rolling and the slope of its direction.
    Over as many runs one way as the other, on the same road, the slope cancels in the mean.

    Parameters
    ----------
    runs : sequence of CoastDownRun
        Eight samples or more in all, over a wide span of speeds; a run ends where it stands still.
    mass_kg : float
        Of the vehicle as it ran [kg], > 0.
    air_density_kg_m3 : float
        Of the air [kg/m³], > 0.
    rotating_mass_factor : float
        Mass to slow down by mass to carry, > 0.

    Returns
    -------
    CoastDownFit
        With its covariance, from how far the samples lie off the fit.

    Raises
    ------
    MeasurementError
        If the runs cannot be fitted, scatter too much, or say that nothing slows the vehicle; all
        faults together.

    Source
    ------
    m k dv/dt = -(1/2 rho CdA v² + m g (c + slope)), fitted by `fit_curve`.

    Examples
    --------
    >>> v = [24.0 - 0.35 * t + 0.0018 * t * t for t in range(0, 40, 4)]
    >>> run = CoastDownRun(tuple(range(0, 40, 4)), tuple(v))
    >>> fit = fit_coast_down([run, run], mass_kg=1500.0, air_density_kg_m3=1.2)
    >>> round(fit.drag_area_m2, 2), round(fit.rolling_resistance, 4)
    (0.87, 0.0177)
    """
    checks = {"mass_kg": (mass_kg, POSITIVE), "air_density_kg_m3": (air_density_kg_m3, POSITIVE)}
    checks |= {"rotating_mass_factor": (rotating_mass_factor, POSITIVE)}
    faults = [*broken("Coast-down", checks), *_in_runs(runs)]
    if faults:
        raise MeasurementError(faults)
    rolled = [_until_standstill(run) for run in runs]
    times = [np.array(run.time_s) for run in rolled]
    speeds = [np.array(run.speed_m_s) for run in rolled]
    found, covariance = fit_curve(times, speeds)
    _must_slow(found, covariance, top_m_s=max(float(speed.max()) for speed in speeds))
    per_drag = 2 * mass_kg * rotating_mass_factor / air_density_kg_m3
    require("Coast-down", {"mass by air density": (per_drag, POSITIVE)})
    per_rolling = rotating_mass_factor / STANDARD_GRAVITY_M_S2
    sigma_a, sigma_b = np.sqrt(np.diag(covariance))
    correlation = covariance[0, 1] / (sigma_a * sigma_b) if sigma_a > 0 and sigma_b > 0 else 0.0
    fit = CoastDownFit(
        drag_area_m2=float(found[0] * per_drag),
        rolling_resistance=float(found[1] * per_rolling),
        drag_area_sigma_m2=float(sigma_a * per_drag),
        rolling_resistance_sigma=float(sigma_b * per_rolling),
        correlation=float(min(max(correlation, -1.0), 1.0)),
    )
    _must_be_clear(fit)
    return fit


def _must_slow(found: Floats, covariance: Floats, *, top_m_s: float) -> None:
    slowing = found * (top_m_s**2, 1.0)
    told = bool(np.all(np.isfinite(found)) and np.all(np.isfinite(covariance)))
    if told and np.all(slowing > LEAST_SHARE * max(slowing.sum(), 0.0)):
        return
    what = "the runs say that air or tyres do not slow the vehicle"
    remedy = "Run both ways on a level road without wind, out of gear, down to walking pace."
    raise MeasurementError([Fault("M024", "Coast-down", what, remedy)])


def _must_be_clear(fit: CoastDownFit) -> None:
    """Refuse values that the readings' scatter leaves in too much doubt, both together."""
    values = {
        "drag area": (fit.drag_area_m2, fit.drag_area_sigma_m2, " m²"),
        "rolling resistance": (fit.rolling_resistance, fit.rolling_resistance_sigma, ""),
    }
    remedy = "Make more runs, over more speeds, on a calm day."
    faults = [
        Fault(
            "M026",
            "Coast-down",
            f"the readings scatter so much that the {label} is {value:.3g} ± {sigma:.2g}{unit}",
            remedy,
        )
        for label, (value, sigma, unit) in values.items()
        if sigma > MOST_DOUBT * value
    ]
    if faults:
        raise MeasurementError(faults)


def _in_runs(runs: Sequence[CoastDownRun]) -> list[Fault]:
    faults = [fault for number, run in enumerate(runs, 1) for fault in _in_run(number, run)]
    return faults or _in_span([_until_standstill(run) for run in runs])


def _in_run(number: int, run: CoastDownRun) -> list[Fault]:
    where = f"run {number} of the coast-down"
    faults = broken(where, {f"time {n}": (t, FINITE) for n, t in enumerate(run.time_s, 1)})
    faults += broken(
        where, {f"speed {n}": (v, NOT_NEGATIVE) for n, v in enumerate(run.speed_m_s, 1)}
    )
    if faults:
        return faults
    if len(run.time_s) != len(run.speed_m_s) or np.any(np.diff(run.time_s) <= 0):
        what = "its times do not rise, or a time has no speed"
        return [Fault("M021", where, what, "Give each speed with its time, in order.")]
    if max(run.speed_m_s, default=0.0) >= UNBOUNDED_M_S:
        what = f"a speed is beyond {UNBOUNDED_M_S:g} m/s"
        return [Fault("M021", where, what, "Give speeds of a road vehicle.")]
    if any(run.speed_m_s[len(_until_standstill(run).speed_m_s) :]):
        what = "the vehicle stood still and moved again"
        return [Fault("M021", where, what, "Make a run of its own of each time it rolled.")]
    return []


def _until_standstill(run: CoastDownRun) -> CoastDownRun:
    """Leave out what was noted once the vehicle stood: it says nothing of what slowed it."""
    rolled = next((n for n, speed in enumerate(run.speed_m_s) if speed == 0), len(run.speed_m_s))
    return CoastDownRun(run.time_s[:rolled], run.speed_m_s[:rolled])


def _in_span(runs: Sequence[CoastDownRun]) -> list[Fault]:
    speeds = [speed for run in runs for speed in run.speed_m_s]
    if len(speeds) < FEWEST_SAMPLES or min(len(run.time_s) for run in runs) < FEWEST_IN_RUN:
        what = f"it has {len(speeds)} speeds in all; a fit needs eight, and four a run"
        return [Fault("M022", "Coast-down", what, "Note the speed more often while it rolls.")]
    if max(speeds) >= max(LEAST_SPAN * min(speeds), LEAST_TOP_M_S):
        return []
    what = (
        f"its speeds lie between {KM_H_PER_M_S * min(speeds):.0f} and "
        f"{KM_H_PER_M_S * max(speeds):.0f} km/h; air and tyres cannot be told apart in that"
    )
    remedy = (
        f"Start faster, above {KM_H_PER_M_S * LEAST_TOP_M_S:.0f} km/h, and roll until it is slow."
    )
    return [Fault("M023", "Coast-down", what, remedy)]
