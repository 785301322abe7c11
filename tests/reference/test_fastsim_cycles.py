"""The road load in the reference convention against FASTSim, on its files and standard cycles.

`python -m tests.benchmarks.reference_table` prints the results side by side.
"""

# Source: FASTSim 3.1.0, run here, with its bundled files of battery-electric vehicles.

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.achieved_speed import DrivenTrip, drive_trip
from configurator.physics.road_vehicle import Trip
from tests.physics.road_vehicles import cycle_trip
from tests.reference.fastsim_runs import File, Run, as_ours, as_they_come, electric_files, run

CYCLES = ("udds", "hwfet", "wltc-class-1", "wltc-class-2", "wltc-class-3b", "nedc")
FILES = electric_files()
NUMBERS = range(1, len(FILES) + 1)
SHARES = (0.6, 0.8, 0.95)
ROUNDING = 1e-9
WHERE_POWER_LIMITS = 1e-6
"""Two ways to solve for a speed, each second from the last."""


def both(file: File, cycle: str, *, may_lag: bool = False) -> tuple[Run, DrivenTrip]:
    trip = cycle_trip(cycle, 22.0)
    vehicle, convention = as_ours(file)
    return run(file, trip.speed_m_s, may_lag=may_lag), drive_trip(vehicle, trip, convention)


def weakened(file: File, cycle: str, share: float) -> File | None:
    """Give a file's motor a share of the power that the cycle asks; None if it could not brake.

    FASTSim refuses more braking than the motor's power, so a motor cannot be weaker than that.
    """
    speed = np.array(cycle_trip(cycle).speed_m_s)
    vehicle, convention = as_ours(file)
    mean, gain = (speed[1:] + speed[:-1]) / 2, np.diff(speed)
    force = (
        vehicle.mass_kg
        * (
            convention.gravity_m_s2 * vehicle.rolling_resistance
            + vehicle.rotating_mass_factor * gain
        )
        + 0.5 * 1.17285 * vehicle.drag_area_m2 * mean**2
    )
    power = force * mean
    motor_w = share * power.max() / vehicle.drive_efficiency
    if motor_w < -1.001 * power.min() * vehicle.drive_efficiency:
        return None
    file["pt_type"]["BEV"]["em"]["pwr_out_max_watts"] = float(motor_w)
    return file


def test_there_are_files_to_compare_with() -> None:
    assert len(FILES) >= 4


@pytest.mark.parametrize("cycle", CYCLES)
@pytest.mark.parametrize("number", NUMBERS)
def test_a_file_takes_the_same_at_terminals_and_cells(number: int, cycle: str) -> None:
    theirs, ours = both(FILES[number - 1], cycle)
    assert 0 == theirs.slower_s == ours.seconds_behind
    assert theirs.distance_m == pytest.approx(ours.distance_m, rel=1e-9)
    assert theirs.terminal_j == pytest.approx(ours.terminal_j, rel=ROUNDING)
    assert theirs.cell_j == pytest.approx(ours.cell_j, rel=ROUNDING)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_battery_that_warms_by_its_losses_changes_next_to_nothing(number: int) -> None:
    trip = cycle_trip("wltc-class-3b", 22.0)
    vehicle, convention = as_ours(FILES[number - 1])
    theirs = run(as_they_come()[number - 1], trip.speed_m_s)
    assert theirs.cell_j == pytest.approx(drive_trip(vehicle, trip, convention).cell_j, rel=1e-3)


WEAKENED = [
    (number, cycle, share)
    for number in NUMBERS
    for cycle in CYCLES
    for share in SHARES
    if weakened(electric_files()[number - 1], cycle, share)
]


def test_enough_files_can_be_weakened() -> None:
    assert set(NUMBERS) == {number for number, _, _ in WEAKENED}
    # On the other two, braking asks for more power than driving does.
    assert {*CYCLES} - {"hwfet", "wltc-class-1"} == {cycle for _, cycle, _ in WEAKENED}


@pytest.mark.parametrize(("number", "cycle", "share"), WEAKENED)
def test_where_power_limits_the_achieved_speed_and_the_energy_are_the_same(
    number: int, cycle: str, share: float
) -> None:
    file = weakened(electric_files()[number - 1], cycle, share)
    assert file is not None
    theirs, ours = both(file, cycle, may_lag=True)
    assert theirs.slower_s == ours.seconds_behind > 0
    assert theirs.distance_m == pytest.approx(ours.distance_m, rel=WHERE_POWER_LIMITS)
    assert theirs.terminal_j == pytest.approx(ours.terminal_j, rel=WHERE_POWER_LIMITS)
    assert theirs.cell_j == pytest.approx(ours.cell_j, rel=WHERE_POWER_LIMITS)


@pytest.mark.parametrize(("number", "cycle", "share"), WEAKENED[::4])
def test_its_own_early_stop_on_the_way_to_a_speed_changes_little(
    number: int, cycle: str, share: float
) -> None:
    file = weakened(electric_files()[number - 1], cycle, share)
    assert file is not None
    trip = cycle_trip(cycle, 22.0)
    vehicle, convention = as_ours(file)
    theirs = run(file, trip.speed_m_s, may_lag=True, stops_early=True)
    ours = drive_trip(vehicle, trip, convention)
    assert theirs.terminal_j == pytest.approx(ours.terminal_j, rel=5e-3)
    assert theirs.cell_j == pytest.approx(ours.cell_j, rel=5e-3)


def test_a_motor_far_too_weak_reaches_the_same_speeds() -> None:
    # Speeding up hard and slowing down gently, so that a weak motor can still do all the braking.
    climb, fall = np.arange(0.0, 30.0, 2.5), np.arange(30.0, -0.1, -0.15)
    trace = tuple(float(speed) for speed in [*climb, *([30.0] * 40), *fall] * 3)
    for file in electric_files():
        file["pt_type"]["BEV"]["em"]["pwr_out_max_watts"] = 18_000.0
        vehicle, convention = as_ours(file)
        theirs = run(file, trace, may_lag=True)
        ours = drive_trip(vehicle, Trip(speed_m_s=trace, temperature_c=22.0), convention)
        assert theirs.slower_s == ours.seconds_behind > 60
        assert theirs.distance_m == pytest.approx(ours.distance_m, rel=WHERE_POWER_LIMITS)
        assert theirs.cell_j == pytest.approx(ours.cell_j, rel=WHERE_POWER_LIMITS)
