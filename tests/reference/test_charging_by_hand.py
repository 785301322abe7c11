"""Charging times and supplies against figures worked out by hand."""

from __future__ import annotations

import math

import pytest

from configurator.physics.charging import charging_hours, stored_power_kw
from configurator.physics.charging_limits import CABLE_CURRENT_A, ac_limits, least_limit


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
    limits = ac_limits(
        source_voltage_v=230.0,
        source_current_a=float(amps),
        source_phases=phases,
        source_max_power_kw=50.0,
        charger_power_kw=44.0,
        charger_phases=phases,
        charger_max_current_a=63.0,
        charger_efficiency=1.0,
    )
    decides = least_limit(limits, 400.0)
    assert ("source", pytest.approx(kilowatts)) == (decides.by, decides.power_kw)


# Source: IEC 61851-1 annex B, from memory: 1500 ohm 13 A, 680 ohm 20 A, 220 ohm 32 A, 100 ohm 63 A.
@pytest.mark.parametrize(
    ("resistor_ohm", "amps"), [(1500, 13.0), (680, 20.0), (220, 32.0), (100, 63.0)]
)
def test_a_resistor_in_the_plug_tells_what_the_cable_carries(
    resistor_ohm: int, amps: float
) -> None:
    assert amps == CABLE_CURRENT_A[resistor_ohm]


# Source: first principles; 100 A into a battery whose voltage rises evenly from 300 to 400 V is
# 30 to 40 kW, and 50 kWh take 50 / 10 x ln(40 / 30) hours.
def test_a_battery_whose_voltage_rises_takes_its_current_ever_faster() -> None:
    by_hand = 50 / 10 * math.log(40 / 30)
    computed = charging_hours(
        usable_energy_kwh=50.0,
        from_percent=0.0,
        to_percent=100.0,
        power_kw=90.0,
        taper_from_percent=100.0,
        end_power_share=1.0,
        current_a=100.0,
        voltages_v=(300.0, 350.0, 400.0),
    )
    assert by_hand == pytest.approx(computed, rel=1e-12)


# Source: first principles; 125 A into 380 V behind 0.16 ohm are 400 V and 50 kW at the terminals;
# 47.5 kW of that are stored and 2.5 kW heat the battery.
def test_of_fifty_kilowatts_two_and_a_half_heat_the_battery() -> None:
    computed = stored_power_kw(power_kw=50.0, resistance_ohm=0.16, voltage_v=380.0)
    assert pytest.approx(computed, rel=1e-12) == 47.5
