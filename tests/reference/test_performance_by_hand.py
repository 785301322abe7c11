"""Hill and shaft power against figures worked out by hand."""

from __future__ import annotations

import math

import pytest

from configurator.physics.performance import cruise_power_margin_kw, hill_restart_percent


def test_5550_newtons_start_1500_kg_on_39_percent() -> None:
    # Source: first principles, F = m g (sin a + c cos a); 39.2 %, checked by putting it back.
    percent = hill_restart_percent(
        mass_kg=1500.0,
        peak_torque_nm=5550.0 * 0.3 / 9,
        overall_ratio=9.0,
        efficiency=1.0,
        rolling_radius_m=0.3,
        rolling_resistance=0.013,
    )
    angle = math.atan(percent / 100)
    assert percent == pytest.approx(39.2, abs=0.05)
    assert 1500 * 9.80665 * (math.sin(angle) + 0.013 * math.cos(angle)) == pytest.approx(5550)


def test_110_km_h_takes_25_kilowatts_at_the_shaft() -> None:
    # Source: first principles: (1/2 1.2 1.0 v² + 1500 g 0.013) v / 0.92 = 24.96 kW at 110 km/h.
    margin_kw = cruise_power_margin_kw(
        mass_kg=1500.0,
        drag_area_m2=1.0,
        rolling_resistance=0.013,
        drive_efficiency=0.92,
        continuous_power_kw=100.0,
        air_density_kg_m3=1.2,
        speed_km_h=110.0,
    )
    speed = 110 / 3.6
    by_hand_w = (0.5 * 1.2 * speed**2 + 1500 * 9.80665 * 0.013) * speed / 0.92
    assert by_hand_w / 1000 == pytest.approx(100 - margin_kw)
    assert 100 - margin_kw == pytest.approx(24.96, abs=0.005)
