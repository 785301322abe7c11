"""Charging times and supplies against figures worked out by hand."""

from __future__ import annotations

import math

import pytest

from configurator.physics.charging import ac_power_kw, charging_hours


# Source: first principles, energy over a power that falls linearly with the charge.
@pytest.mark.parametrize(
    ("power_kw", "charge", "taper", "share", "hours"),
    [
        (6.6 * 0.92, (10.0, 100.0), 95.0, 0.20, 6.262),
        (40.0, (10.0, 80.0), 80.0, 0.15, 0.7000),
        (40.0, (10.0, 95.0), 80.0, 0.15, 0.9388),
    ],
)
def test_forty_kilowatt_hours_take_the_time_worked_out(
    power_kw: float, charge: tuple[float, float], taper: float, share: float, hours: float
) -> None:
    start, end = charge
    last_kw = power_kw * share
    at_end_kw = power_kw - (power_kw - last_kw) * (end - taper) / (100 - taper)
    by_hand = 40 * (taper - start) / 100 / power_kw
    by_hand += 40 * (100 - taper) / 100 / (power_kw - last_kw) * math.log(power_kw / at_end_kw)
    computed = charging_hours(
        usable_energy_kwh=40.0,
        from_percent=start,
        to_percent=end,
        power_kw=power_kw,
        taper_from_percent=taper,
        end_power_share=share,
    )
    assert by_hand == pytest.approx(computed, rel=1e-12)
    assert by_hand == pytest.approx(hours, abs=5e-4)


# Source: mains at 230 V and unity power factor, P = V I x phases.
@pytest.mark.parametrize(
    ("amps", "phases", "kilowatts"),
    [
        (6, 1, 1.38),
        (10, 1, 2.30),
        (13, 1, 2.99),
        (16, 1, 3.68),
        (32, 1, 7.36),
        (16, 3, 11.04),
        (32, 3, 22.08),
    ],
)
def test_a_supply_gives_volts_times_amps_times_phases(
    amps: float, phases: int, kilowatts: float
) -> None:
    computed = ac_power_kw(
        source_voltage_v=230.0,
        source_current_a=float(amps),
        source_phases=phases,
        source_max_power_kw=50.0,
        charger_power_kw=44.0,
        charger_phases=phases,
        charger_max_current_a=63.0,
        charger_efficiency=1.0,
        pack_peak_charge_kw=100.0,
    )
    assert kilowatts == pytest.approx(computed)
