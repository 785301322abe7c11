"""What moves the edges of the band and how they fall; against draws, see its coverage."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.range_band import (
    DOUBTS,
    RangeBand,
    range_bands,
    variance_shares,
)
from configurator.physics.road_load import consumption_wh_per_km
from configurator.physics.road_vehicle import RoadVehicle, Trip
from tests.physics.road_vehicles import (
    cycle_trip,
    plausible_trips,
    plausible_vehicles,
    road_vehicle,
)

TOWN = cycle_trip("wltc-class-1")
EDGES = ("low", "mid", "high")

CERTAIN = {
    "mass_sigma_kg": 0.0,
    "drag_area_sigma_percent": 0.0,
    "rolling_resistance_sigma_percent": 0.0,
    "drive_efficiency_sigma_percent": 0.0,
    "auxiliary_power_sigma_percent": 0.0,
    "cabin_heat_loss_sigma_percent": 0.0,
    "usable_energy_sigma_percent": 0.0,
}


def edge_km(band: RangeBand, edge: str) -> float:
    return {"low": band.low_km, "mid": band.mid_km, "high": band.high_km}[edge]


def test_the_middle_is_energy_by_consumption() -> None:
    vehicle = road_vehicle()
    band = range_bands([vehicle], TOWN)[0]
    consumption = consumption_wh_per_km([vehicle], TOWN)[0]
    assert consumption == band.consumption_wh_per_km
    assert vehicle.usable_energy_wh / consumption == band.mid_km


def test_a_doubt_about_the_energy_alone_widens_the_band_by_that_doubt() -> None:
    vehicle = road_vehicle(**{**CERTAIN, "usable_energy_sigma_percent": 5.0})
    band = range_bands([vehicle], TOWN)[0]
    assert math.exp(1.2815515655446004 * 0.05) == pytest.approx(band.high_km / band.mid_km)
    assert band.high_km / band.mid_km == pytest.approx(band.mid_km / band.low_km)


@pytest.mark.parametrize(
    ("sigma", "value", "step"),
    [
        ("mass_sigma_kg", "mass_kg", 1.0),
        ("drag_area_sigma_percent", "drag_area_m2", 0.016),
        ("rolling_resistance_sigma_percent", "rolling_resistance", 0.000135),
        ("drive_efficiency_sigma_percent", "drive_efficiency", 0.0086),
        ("recovery_efficiency_sigma_percent", "recovery_efficiency", 0.0078),
        ("no_load_loss_sigma_percent", "no_load_loss_w", 1.8),
        ("auxiliary_power_sigma_percent", "auxiliary_power_w", 2.5),
        ("cabin_heat_loss_sigma_percent", "cabin_heat_loss_w_per_k", 0.7),
    ],
)
@pytest.mark.parametrize("peak_power_w", [20_000.0, 70_000.0])
def test_each_doubt_widens_the_band_by_what_the_input_moves(
    sigma: str, value: str, step: float, peak_power_w: float
) -> None:
    trip = cycle_trip("wltc-class-2", -5.0)
    doubt = {**CERTAIN, sigma: 1.0, "peak_power_w": peak_power_w}
    vehicle = road_vehicle(**doubt)
    less, more = (
        replace(vehicle, **{value: getattr(vehicle, value) + sign * step / 10}) for sign in (-1, 1)
    )
    low, high = consumption_wh_per_km([less, more], trip)
    expected = abs(math.log(high / low)) * 10 / 2
    band = range_bands([vehicle], trip)[0]
    assert expected == pytest.approx(
        math.log(band.mid_km / band.low_km) / 1.2815515655446004, rel=0.02
    )


# Source: propagation of uncertainty with correlated inputs, JCGM 100 clause 5.2.2.
@pytest.mark.parametrize("correlation", [-0.8, 0.0, 0.6])
def test_errors_that_go_together_widen_the_band_and_opposite_ones_narrow_it(
    correlation: float,
) -> None:
    def log_half_width(**sigmas: float) -> float:
        vehicle = road_vehicle(**{**CERTAIN, **sigmas})
        band = range_bands([vehicle], cycle_trip("wltc-class-2"))[0]
        return math.log(band.mid_km / band.low_km)

    drag = log_half_width(drag_area_sigma_percent=6.0)
    rolling = log_half_width(rolling_resistance_sigma_percent=9.0)
    both = log_half_width(
        drag_area_sigma_percent=6.0,
        rolling_resistance_sigma_percent=9.0,
        drag_rolling_correlation=correlation,
    )
    expected = math.sqrt(drag**2 + rolling**2 + 2 * correlation * drag * rolling)
    assert expected == pytest.approx(both)


def test_without_doubt_the_band_is_one_number_and_nothing_is_to_blame() -> None:
    vehicle = road_vehicle(**CERTAIN)
    band = range_bands([vehicle], TOWN)[0]
    assert band.low_km == band.mid_km == band.high_km
    assert dict.fromkeys(DOUBTS, 0.0) == variance_shares([vehicle], TOWN)[0]


def test_the_shares_of_the_doubt_sum_to_one_and_name_the_greatest() -> None:
    vehicle = road_vehicle(usable_energy_sigma_percent=25.0)
    shares = variance_shares([vehicle], TOWN)[0]
    assert sum(shares.values()) == pytest.approx(1.0)
    assert max(shares, key=lambda doubt: shares[doubt]) == "usable energy"


@settings(max_examples=40, deadline=None)
@given(plausible_vehicles(), plausible_trips(), st.floats(-1, 1))
def test_no_share_of_the_doubt_is_below_none_or_beyond_the_whole(
    vehicle: RoadVehicle, trip: Trip, correlation: float
) -> None:
    tested = replace(
        vehicle,
        drag_area_sigma_percent=2.0,
        rolling_resistance_sigma_percent=9.0,
        drag_rolling_correlation=correlation,
    )
    shares = variance_shares([tested], trip)[0].values()
    assert all(0 <= share <= 1 + 1e-9 for share in shares)
    assert sum(shares) == pytest.approx(1.0)


@pytest.mark.filterwarnings("error")
def test_a_trip_that_takes_just_nothing_has_no_range_and_is_said_without_a_warning() -> None:
    rolling_down = Trip(steady_m_s=0.5, temperature_c=20.0, slope_percent=-5.0)
    idle = road_vehicle(auxiliary_power_w=0.0, no_load_loss_w=0.0, recovery_share=0.0)
    with pytest.raises(MeasurementError, match="would have no end"):
        range_bands([idle], rolling_down)


def test_a_vehicle_gets_the_same_band_alone_and_among_many() -> None:
    vehicles = [road_vehicle(mass_kg=900.0 + 11 * number) for number in range(100)]
    alone = tuple(range_bands([vehicle], TOWN)[0] for vehicle in vehicles)
    assert alone == range_bands(vehicles, TOWN)


@settings(max_examples=40, deadline=None)
@given(plausible_vehicles(), plausible_trips(), st.floats(700, 3000), st.sampled_from([0.001, 1.0]))
def test_each_edge_falls_steadily_with_mass(
    vehicle: RoadVehicle, trip: Trip, from_kg: float, step_kg: float
) -> None:
    masses = [from_kg + number * step_kg for number in range(60)]
    bands = range_bands([replace(vehicle, mass_kg=mass) for mass in masses], trip)
    for edge in EDGES:
        assert np.all(np.diff([edge_km(band, edge) for band in bands]) < 0)


@settings(max_examples=40, deadline=None)
@given(
    plausible_vehicles(),
    plausible_trips(),
    st.sampled_from(
        ["drag_area_m2", "rolling_resistance", "auxiliary_power_w", "cabin_heat_loss_w_per_k"]
    ),
)
def test_more_drag_rolling_or_load_never_lengthens_the_range(
    vehicle: RoadVehicle, trip: Trip, name: str
) -> None:
    value = getattr(vehicle, name)
    worse = [replace(vehicle, **{name: value * (1 + number / 40)}) for number in range(60)]
    bands = range_bands(worse, trip)
    for edge in EDGES:
        kilometres = np.array([edge_km(band, edge) for band in bands])
        assert np.all(np.diff(kilometres) <= 1e-12 * kilometres[0])


@pytest.mark.parametrize("outside_c", [-20.0, 40.0])
def test_a_cabin_that_loses_more_than_its_device_can_give_widens_nothing(outside_c: float) -> None:
    trip = replace(TOWN, temperature_c=outside_c)
    losing = [
        road_vehicle(
            cabin_heat_loss_w_per_k=10.0 * number,
            cabin_heat_loss_sigma_percent=30.0,
            heater_max_heat_w=1500.0,
            cabin_gain_w=200.0,
            cooler_max_heat_w=900.0,
            cooler_cop=((30.0, 2.0),),
        )
        for number in range(1, 40)
    ]
    bands = range_bands(losing, trip)
    for edge in EDGES:
        assert np.all(np.diff([edge_km(band, edge) for band in bands]) <= 1e-9)
