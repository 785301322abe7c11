"""A plausible vehicle to vary, strategies for others, and the bundled cycles."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from configurator.catalog import cycles
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from configurator.units import KM_H_PER_M_S

OLD_VAN: dict[str, Any] = {
    "mass_kg": 1750.0,
    "drag_area_m2": 1.6,
    "rolling_resistance": 0.0135,
    "drive_efficiency": 0.86,
    "no_load_loss_w": 180.0,
    "recovery_efficiency": 0.78,
    "recovery_share": 0.6,
    "auxiliary_power_w": 250.0,
    "converter_efficiency": 0.9,
    "cabin_heat_loss_w_per_k": 70.0,
    "heater_max_heat_w": 4000.0,
    "heater_cop": ((-15.0, 1.4), (0.0, 2.1), (10.0, 3.0)),
    "usable_energy_wh": 42_000.0,
    "resistance_ohm": 0.12,
    "nominal_voltage_v": 350.0,
    "peak_power_w": 70_000.0,
    "mass_sigma_kg": 35.0,
    "drag_area_sigma_percent": 8.0,
    "rolling_resistance_sigma_percent": 10.0,
    "drive_efficiency_sigma_percent": 4.0,
    "auxiliary_power_sigma_percent": 20.0,
    "cabin_heat_loss_sigma_percent": 20.0,
    "usable_energy_sigma_percent": 3.0,
}


def road_vehicle(**changes: Any) -> RoadVehicle:
    return RoadVehicle(**{**OLD_VAN, **changes})


def _between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False, allow_subnormal=False)


def plausible_vehicles() -> st.SearchStrategy[RoadVehicle]:
    return st.builds(
        RoadVehicle,
        mass_kg=_between(700, 3000),
        drag_area_m2=_between(0.4, 3),
        rolling_resistance=_between(0.006, 0.025),
        rolling_growth=_between(0, 0.4),
        drive_efficiency=_between(0.6, 0.97),
        no_load_loss_w=_between(0, 1000),
        recovery_efficiency=_between(0, 0.95),
        load_loss_per_w=st.one_of(st.just(0.0), _between(1e-8, 2e-6)),
        recovery_share=_between(0, 1),
        recovery_grip=_between(0.05, 0.8),
        recovery_full_from_m_s=st.one_of(st.just(0.0), _between(0.5, 6)),
        auxiliary_power_w=_between(1, 1500),
        converter_efficiency=_between(0.8, 1),
        cabin_heat_loss_w_per_k=_between(0, 200),
        cabin_heat_capacity_j_per_k=_between(0, 150_000),
        cabin_gain_w=_between(0, 800),
        heater_max_heat_w=_between(0, 6000),
        heater_cop=st.sampled_from([(), ((0.0, 1.0),), ((-10.0, 1.5), (10.0, 3.0))]),
        cooler_max_heat_w=st.one_of(st.just(0.0), _between(500, 5000)),
        cooler_cop=st.sampled_from([(), ((20.0, 3.5), (40.0, 2.0))]),
        usable_energy_wh=_between(10_000, 90_000),
        resistance_ohm=st.one_of(st.just(0.0), _between(0.005, 0.4)),
        nominal_voltage_v=_between(90, 400),
        peak_power_w=_between(15_000, 150_000),
        rotating_mass_factor=_between(1.0, 1.1),
        mass_sigma_kg=_between(0, 80),
        drag_area_sigma_percent=_between(0, 25),
        rolling_resistance_sigma_percent=_between(0, 25),
        drive_efficiency_sigma_percent=_between(0, 10),
        auxiliary_power_sigma_percent=_between(0, 50),
        cabin_heat_loss_sigma_percent=_between(0, 50),
        usable_energy_sigma_percent=_between(0, 15),
        recovery_efficiency_sigma_percent=_between(0, 15),
        no_load_loss_sigma_percent=_between(0, 40),
        drag_rolling_correlation=_between(-0.9, 0.5),
    )


CYCLE_IDS = (
    "hwfet",
    "nedc",
    "udds",
    "wltc-class-1",
    "wltc-class-2",
    "wltc-class-3a",
    "wltc-class-3b",
)


@cache
def cycle_km_h(cycle_id: str) -> tuple[float, ...]:
    lines = (Path(cycles.__path__[0]) / f"{cycle_id}.csv").read_text("utf-8").splitlines()
    rows = [line.split(",") for line in lines if not line.startswith("#")]
    return tuple(float(speed) for _, speed in rows[1:])


def cycle_trip(cycle_id: str, temperature_c: float = 20.0) -> Trip:
    trace = tuple(speed / KM_H_PER_M_S for speed in cycle_km_h(cycle_id))
    return Trip(speed_m_s=trace, temperature_c=temperature_c)


def plausible_trips() -> st.SearchStrategy[Trip]:
    starts = st.one_of(st.none(), _between(300, 7200))
    steady = st.builds(
        Trip,
        steady_m_s=_between(5, 35),
        temperature_c=_between(-20, 35),
        seconds_between_starts=starts,
    )
    cycle = st.builds(cycle_trip, st.sampled_from(CYCLE_IDS), _between(-20, 35))
    return st.one_of(steady, cycle, plausible_days())


def plausible_days() -> st.SearchStrategy[Trip]:
    """Days of up to three legs; what is climbed is not much more than is driven down."""
    metres = _between(500, 80_000)
    trace = st.sampled_from(CYCLE_IDS).map(
        lambda cycle: tuple(speed / KM_H_PER_M_S for speed in cycle_km_h(cycle))
    )
    legs = st.one_of(
        st.builds(Leg, distance_m=metres, speed_m_s=trace),
        st.builds(Leg, distance_m=metres, steady_m_s=_between(5, 35), slope_percent=_between(0, 6)),
    )
    return st.builds(
        Trip,
        legs=st.lists(legs, min_size=1, max_size=3).map(tuple),
        temperature_c=_between(-20, 35),
        seconds_between_starts=st.one_of(st.none(), _between(300, 7200)),
    )
