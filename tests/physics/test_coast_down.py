"""Coast-downs of vehicles with a known drag give that drag back."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.coast_down import CoastDownRun, fit_coast_down

MASS_KG, DENSITY, DRAG_AREA_M2, ROLLING = 1500.0, 1.2, 1.4, 0.0125
TEST = {"mass_kg": MASS_KG, "air_density_kg_m3": DENSITY}


def slowing(speed: float, slope: float = 0.0) -> float:
    force = 0.5 * DENSITY * DRAG_AREA_M2 * speed**2 + MASS_KG * 9.80665 * (ROLLING + slope)
    return -force / (1.03 * MASS_KG)


def run_from(
    start_m_s: float, *, every_s: float = 2.0, slope: float = 0.0, until_m_s: float = 4.0
) -> CoastDownRun:
    """Integrate the motion in steps of a tenth of a second, fourth order (Runge and Kutta)."""
    times, speeds, speed, time = [], [], start_m_s, 0.0
    step = 0.1
    while speed > until_m_s:
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
        ([], "M022"),
        ([CoastDownRun((), ())], "M022"),
        ([CoastDownRun((0.0, 1.0, 2.0, 3.0), (11.0, 8.0, 5.0, 2.0))] * 2, "M023"),
        ([CoastDownRun((0.0, 5.0, 9.0, 12.0, 14.0), (20.0, 9.0, 0.0, 3.0, 2.0))] * 2, "M021"),
    ],
)
def test_runs_that_cannot_be_fitted_are_refused(runs: list[CoastDownRun], code: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        fit_coast_down(runs, **TEST)
    assert code in [fault.code for fault in refused.value.faults]


# Source: the motion integrated by another method, down to a halt.
def test_a_run_may_be_noted_until_the_vehicle_stands() -> None:
    run = run_from(25.0, until_m_s=0.05)
    after = tuple(run.time_s[-1] + second for second in (2.0, 4.0, 6.0))
    stood = CoastDownRun((*run.time_s, *after), (*run.speed_m_s, 0.0, 0.0, 0.0))
    fit = fit_coast_down([stood, run_from(25.0)], **TEST)
    assert pytest.approx(fit.drag_area_m2, rel=1e-5) == DRAG_AREA_M2
    assert pytest.approx(fit.rolling_resistance, rel=1e-5) == ROLLING


def speeds_over(seconds: int, speed: Callable[[float], float]) -> list[CoastDownRun]:
    times = tuple(float(second) for second in range(0, seconds, 3))
    return [CoastDownRun(times, tuple(speed(time) for time in times))] * 2


# Source: Newton's second law: speed that does not fall, that levels off above zero, or that falls
# the faster the slower it is, needs a push forward.
@pytest.mark.parametrize(
    "runs",
    [
        speeds_over(40, lambda time: 12.0 + 0.3 * time),
        speeds_over(40, lambda time: 5.0 * math.exp(time / 20)),
        speeds_over(60, lambda time: 12.0 + 12.0 * math.exp(-time / 8)),
        speeds_over(40, lambda time: 25.0 - 0.01 * time**2),
        speeds_over(41, lambda time: 25.0 - 0.0156 * time**2),
        speeds_over(40, lambda time: 20.0 - 0.45 * time),
        speeds_over(40, lambda time: 8.0 if time % 2 else 20.0),
    ],
    ids=[
        "speeds-up",
        "runs-away",
        "levels-off",
        "concave",
        "concave-to-a-halt",
        "brakes-evenly",
        "to-and-fro",
    ],
)
def test_runs_in_which_air_or_tyres_do_not_slow_are_refused(runs: list[CoastDownRun]) -> None:
    with pytest.raises(MeasurementError) as refused:
        fit_coast_down(runs, **TEST)
    assert ["M024"] == [fault.code for fault in refused.value.faults]


def test_all_faults_of_a_coast_down_are_said_together() -> None:
    runs = [
        CoastDownRun((0.0, 1.0, 2.0, 3.0), (20.0, float("nan"), -9.0, 8.0)),
        CoastDownRun((0.0, 2.0, 1.0, 4.0), (20.0, 19.0, 18.0, 9.0)),
    ]
    with pytest.raises(MeasurementError) as refused:
        fit_coast_down(runs, mass_kg=0.0, air_density_kg_m3=1.2)
    assert ["M001", "M002", "M003", "M021"] == sorted(fault.code for fault in refused.value.faults)


SPEEDS = st.lists(st.floats(0.0, 60.0), min_size=0, max_size=12)


@given(st.lists(SPEEDS, min_size=0, max_size=3), st.floats(0.1, 30.0))
@settings(max_examples=200, deadline=None)
def test_any_entry_is_fitted_with_finite_values_or_refused(
    entries: list[list[float]], every_s: float
) -> None:
    runs = [
        CoastDownRun(tuple(every_s * n for n in range(len(speeds))), tuple(speeds))
        for speeds in entries
    ]
    try:
        fit = fit_coast_down(runs, **TEST)
    except MeasurementError:
        return
    assert 0 < fit.drag_area_m2 < math.inf
    assert 0 < fit.rolling_resistance < math.inf
    assert 0 <= fit.drag_area_sigma_m2 < math.inf
    assert 0 <= fit.rolling_resistance_sigma < math.inf
    assert -1 <= fit.correlation <= 1


def test_readings_that_scatter_too_much_are_refused_with_the_doubt() -> None:
    chance = np.random.default_rng(3)
    run = run_from(13.0, until_m_s=7.0)
    noisy = [
        CoastDownRun(run.time_s, tuple(np.array(run.speed_m_s) + chance.normal(0, 0.4, each)))
        for each in [len(run.time_s)] * 2
    ]
    with pytest.raises(MeasurementError, match="±") as refused:
        fit_coast_down(noisy, **TEST)
    assert {"M026"} == {fault.code for fault in refused.value.faults}


# Source: mean and spread of equal runs, each fitted alone, with the doubt shrunk by their number.
def test_twice_as_many_equal_runs_say_the_same_with_less_doubt() -> None:
    chance = np.random.default_rng(5)
    run = run_from(25.0)
    speeds = np.array(run.speed_m_s) + chance.normal(0, 0.05, len(run.time_s))
    noisy = CoastDownRun(run.time_s, tuple(speeds))
    one, nine = (fit_coast_down([noisy] * count, **TEST) for count in (1, 9))
    assert nine.drag_area_m2 == pytest.approx(one.drag_area_m2, rel=1e-6)
    assert nine.rolling_resistance == pytest.approx(one.rolling_resistance, rel=1e-6)
    free = len(speeds) - 3, 9 * len(speeds) - 19
    shrunk = math.sqrt(9 * free[0] / free[1]) / 3
    assert shrunk * one.drag_area_sigma_m2 == pytest.approx(nine.drag_area_sigma_m2, rel=1e-4)
    assert nine.correlation == pytest.approx(one.correlation, abs=1e-4)


def test_forty_runs_of_thousands_of_readings_are_fitted() -> None:
    run = run_from(25.0, every_s=0.1)
    times = np.linspace(0.0, run.time_s[-1], 2000)
    speeds = np.interp(times, run.time_s, run.speed_m_s)
    fit = fit_coast_down([CoastDownRun(tuple(times), tuple(speeds))] * 40, **TEST)
    assert pytest.approx(fit.drag_area_m2, rel=1e-3) == DRAG_AREA_M2


# Source: an 80 % interval of a normal law is the mean and 1.2816 standard deviations each way.
def test_the_stated_doubt_holds_the_truth_in_four_of_five_tests() -> None:
    chance = np.random.default_rng(11)
    clean = [run_from(25.0, slope=0.002), run_from(24.0, slope=-0.002)]
    held = np.zeros(2)
    for _ in range(400):
        noisy = [
            CoastDownRun(
                run.time_s, tuple(np.array(run.speed_m_s) + chance.normal(0, 0.1, len(run.time_s)))
            )
            for run in clean
        ]
        fit = fit_coast_down(noisy, **TEST)
        held += [
            abs(fit.drag_area_m2 - DRAG_AREA_M2) < 1.2816 * fit.drag_area_sigma_m2,
            abs(fit.rolling_resistance - ROLLING) < 1.2816 * fit.rolling_resistance_sigma,
        ]
    assert np.all(np.abs(held / 400 - 0.80) < 0.05)
