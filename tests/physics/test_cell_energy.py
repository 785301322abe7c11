"""The compiled loop against whole arrays of seconds, to the rounding of the sums."""

from __future__ import annotations

from dataclasses import astuple, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.range_band import range_bands, range_bands_of_table
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.vehicle_table import Load, table_of_rows, vehicle_row, with_load
from tests.physics.array_model import array_band
from tests.physics.road_vehicles import (
    cycle_trip,
    plausible_trips,
    plausible_vehicles,
    road_vehicle,
)

TOWN = cycle_trip("wltc-class-1", -5.0)


@settings(max_examples=80, deadline=None)
@given(st.lists(plausible_vehicles(), min_size=1, max_size=3), plausible_trips())
def test_the_compiled_loop_agrees_with_arrays_to_the_rounding(
    vehicles: list[RoadVehicle], trip: Trip
) -> None:
    for vehicle, band in zip(vehicles, range_bands(vehicles, trip), strict=True):
        assert astuple(array_band(vehicle, trip)) == pytest.approx(astuple(band), rel=1e-12)


@pytest.mark.parametrize("cycle", ["nedc", "wltc-class-2", "wltc-class-3b"])
@pytest.mark.parametrize(
    "changes",
    [
        {"peak_power_w": 15_000.0},
        {"nominal_voltage_v": 96.0, "resistance_ohm": 0.1},
        {"resistance_ohm": 0.0},
        {"recovery_share": 0.0},
        {"recovery_share": 1.0, "recovery_efficiency": 1.0, "drive_efficiency": 1.0},
        {"rolling_resistance": 0.0, "no_load_loss_w": 0.0, "auxiliary_power_w": 0.0},
    ],
)
def test_the_compiled_loop_agrees_with_arrays_at_the_edges_of_the_inputs(
    cycle: str, changes: dict[str, float]
) -> None:
    trip = replace(cycle_trip(cycle, -12.0), altitude_m=600.0, slope_percent=0.5)
    vehicle = road_vehicle(**changes)
    band = range_bands([vehicle], trip)[0]
    assert astuple(array_band(vehicle, trip)) == pytest.approx(astuple(band), rel=1e-12)


@settings(max_examples=30, deadline=None)
@given(plausible_vehicles(), plausible_vehicles(), plausible_trips())
def test_a_vehicle_with_the_load_of_another_is_the_vehicle_that_has_it(
    vehicle: RoadVehicle, other: RoadVehicle, trip: Trip
) -> None:
    load = Load(*(getattr(other, name) for name in Load._fields))
    loaded = table_of_rows([with_load(vehicle_row(vehicle, trip), load)])
    expected = range_bands([replace(vehicle, **load._asdict())], trip)
    assert expected == range_bands_of_table(loaded, trip)


def test_an_impossible_load_is_refused_with_its_vehicle() -> None:
    row = vehicle_row(road_vehicle(), TOWN)
    bad = with_load(row, Load(-1.0, 1.6, float("nan"), 250.0, 70.0))
    with pytest.raises(MeasurementError) as refused:
        table_of_rows([row, bad])
    found = {(fault.where, fault.what.split()[0], fault.code) for fault in refused.value.faults}
    assert {("vehicle 2", "mass_kg", "M002"), ("vehicle 2", "rolling_resistance", "M001")} == found
