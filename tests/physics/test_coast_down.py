"""Coast-downs of vehicles with a known drag give that drag back."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.errors import MeasurementError
from configurator.physics.coast_down import CoastDownRun, fit_coast_down

MASS_KG, DENSITY, DRAG_AREA_M2, ROLLING = 1500.0, 1.2, 1.4, 0.0125
TEST = {"mass_kg": MASS_KG, "air_density_kg_m3": DENSITY}


def slowing(speed: float, slope: float = 0.0) -> float:
    force = 0.5 * DENSITY * DRAG_AREA_M2 * speed**2 + MASS_KG * 9.80665 * (ROLLING + slope)
    return -force / (1.03 * MASS_KG)


def run_from(start_m_s: float, *, every_s: float = 2.0, slope: float = 0.0) -> CoastDownRun:
    """Integrate the motion in steps of a tenth of a second, fourth order (Runge and Kutta)."""
    times, speeds, speed, time = [], [], start_m_s, 0.0
    step = 0.1
    while speed > 4.0:
        if round(time / step) % round(every_s / step) == 0:
            times.append(time)
            speeds.append(speed)
        first = slowing(speed, slope)
        second = slowing(speed + step / 2 * first, slope)
        third = slowing(speed + step / 2 * second, slope)
        fourth = slowing(speed + step * third, slope)
        speed += step / 6 * (first + 2 * second + 2 * third + fourth)
        time += step
    return CoastDownRun(tuple(times), tuple(speeds))


# Source: longitudinal forces on a vehicle that rolls, integrated by another method.
def test_the_drag_and_rolling_that_slowed_a_vehicle_are_found_again() -> None:
    fit = fit_coast_down([run_from(25.0), run_from(22.0, every_s=3.0)], **TEST)
    assert pytest.approx(fit.drag_area_m2, rel=1e-5) == DRAG_AREA_M2
    assert pytest.approx(fit.rolling_resistance, rel=1e-5) == ROLLING


def test_a_slope_cancels_when_the_runs_go_both_ways() -> None:
    fit = fit_coast_down([run_from(25.0, slope=0.003), run_from(25.0, slope=-0.003)], **TEST)
    assert pytest.approx(fit.drag_area_m2, rel=1e-4) == DRAG_AREA_M2
    assert pytest.approx(fit.rolling_resistance, rel=1e-4) == ROLLING


# Source: the spread of many fits with chance errors of the speed is what each fit states.
def test_the_stated_doubt_is_the_spread_of_many_noisy_fits() -> None:
    chance = np.random.default_rng(7)
    clean = [run_from(25.0), run_from(24.0)]
    fits = []
    for _ in range(300):
        noisy = [
            CoastDownRun(
                run.time_s, tuple(np.array(run.speed_m_s) + chance.normal(0, 0.1, len(run.time_s)))
            )
            for run in clean
        ]
        fits.append(fit_coast_down(noisy, **TEST))
    drags = np.array([fit.drag_area_m2 for fit in fits])
    rollings = np.array([fit.rolling_resistance for fit in fits])
    stated = np.mean([fit.drag_area_sigma_m2 for fit in fits])
    assert float(drags.std()) == pytest.approx(stated, rel=0.15)
    assert float(rollings.std()) == pytest.approx(
        np.mean([fit.rolling_resistance_sigma for fit in fits]), rel=0.15
    )
    correlation = float(np.corrcoef(drags, rollings)[0, 1])
    assert correlation == pytest.approx(np.mean([fit.correlation for fit in fits]), abs=0.06)
    assert correlation < -0.8


@pytest.mark.parametrize(
    ("runs", "code"),
    [
        ([CoastDownRun((0.0, 2.0, 1.0, 4.0), (20.0, 19.0, 18.0, 9.0))] * 2, "M021"),
        ([CoastDownRun((0.0, 2.0, 4.0), (20.0, 19.0, 9.0))], "M022"),
        ([CoastDownRun((0.0, 1.0, 2.0, 3.0), (20.0, 19.9, 19.8, 19.7))] * 2, "M023"),
        ([CoastDownRun((0.0, 1.0, 2.0, 3.0), (20.0, float("nan"), 9.0, 8.0))] * 2, "M001"),
        ([CoastDownRun((0.0, 1.0, 2.0, 3.0), (20.0, -1.0, 9.0, 8.0))] * 2, "M003"),
    ],
)
def test_runs_that_cannot_be_fitted_are_refused(runs: list[CoastDownRun], code: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        fit_coast_down(runs, **TEST)
    assert code in [fault.code for fault in refused.value.faults]
