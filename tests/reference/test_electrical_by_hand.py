"""The electrical set against figures worked out by hand and against tables of others."""

from __future__ import annotations

import math

import pytest

from configurator.physics.electrical_currents import battery_load
from configurator.physics.electrical_link import (
    bleed_seconds,
    greatest_bleed_ohm,
    pre_charge_seconds,
    stored_energy_j,
)
from configurator.physics.electrical_sizing import (
    DC_OHM_PER_V,
    JOINED_OHM_PER_V,
    cable_resistance_ohm,
    derated_current_a,
    least_isolation_ohm,
)

# Source: IEC 60364-5-52, method F, conductor at 90 °C, three loaded single cores in copper, as
# printed with its derating in the manual of a compressor; [A] at 30, 40, 45, 50 and 55 °C.
AMBIENT_C = (30.0, 40.0, 45.0, 50.0, 55.0)
FREE_AIR_A = {
    25: (135, 123, 117, 110, 103),
    35: (169, 154, 147, 139, 128),
    50: (207, 188, 180, 170, 157),
    70: (268, 244, 233, 220, 204),
    95: (328, 298, 285, 269, 249),
    120: (383, 349, 333, 314, 291),
}


@pytest.mark.parametrize("area_mm2", FREE_AIR_A)
def test_a_warm_cable_carries_what_the_table_of_the_standard_says(area_mm2: int) -> None:
    at_30_a, *warmer_a = FREE_AIR_A[area_mm2]
    for ambient_c, printed_a in zip(AMBIENT_C[1:], warmer_a, strict=True):
        computed = derated_current_a(rated_a=at_30_a, max_conductor_c=90.0, ambient_c=ambient_c)
        # The standard rounds its factors to hundredths, the manual its currents to whole amperes.
        assert printed_a == pytest.approx(computed, rel=0.012)


# Source: first principles, √((90 - 60) / (90 - 30)) × 200 A.
def test_two_hundred_amperes_are_a_hundred_and_forty_one_at_sixty_degrees() -> None:
    computed = derated_current_a(rated_a=200.0, max_conductor_c=90.0, ambient_c=60.0)
    assert 200 / math.sqrt(2) == pytest.approx(computed, rel=1e-12)
    assert pytest.approx(computed, abs=0.05) == 141.4


# Source: first principles, 5 R C, V / R and ½ C V².
@pytest.mark.parametrize(
    ("voltage_v", "resistor_ohm", "seconds", "joules", "peak_a"),
    [(400.0, 100.0, 0.5, 80.0, 4.0), (800.0, 47.0, 0.235, 320.0, 17.02)],
)
def test_pre_charge_takes_the_time_and_energy_worked_out(
    voltage_v: float, resistor_ohm: float, seconds: float, joules: float, peak_a: float
) -> None:
    assert seconds == pytest.approx(
        pre_charge_seconds(resistor_ohm=resistor_ohm, capacitance_f=1000e-6), rel=1e-12
    )
    assert joules == pytest.approx(
        stored_energy_j(capacitance_f=1000e-6, voltage_v=voltage_v), rel=1e-12
    )
    assert peak_a == pytest.approx(voltage_v / resistor_ohm, abs=0.005)


# Source: the charge of a capacitor through a resistor, stepped in time from its equation.
def test_pre_charge_by_steps_leaves_as_much_in_the_resistor_as_in_the_capacitor() -> None:
    source_v, ohm, farad, step_s = 400.0, 100.0, 1000e-6, 1e-5
    capacitor_v = resistor_j = 0.0
    seconds = pre_charge_seconds(resistor_ohm=ohm, capacitance_f=farad)
    for _ in range(round(seconds / step_s)):
        current_a = (source_v - capacitor_v) / ohm
        resistor_j += current_a**2 * ohm * step_s
        capacitor_v += current_a / farad * step_s
    assert pytest.approx(capacitor_v / source_v, abs=1e-3) == 0.993
    assert stored_energy_j(capacitance_f=farad, voltage_v=source_v) == pytest.approx(
        resistor_j, rel=2e-3
    )


# Source: first principles, R = t / (C ln(V0 / V)): 60 / (0.001 ln(400 / 60)) = 31 627 Ω.
def test_a_bleed_of_thirty_one_kilohms_is_quick_enough() -> None:
    greatest = greatest_bleed_ohm(seconds=60.0, capacitance_f=1000e-6, voltage_v=400.0)
    assert pytest.approx(greatest, abs=1.0) == 31_627
    assert greatest is not None
    assert (
        pytest.approx(
            bleed_seconds(bleed_ohm=greatest, capacitance_f=1000e-6, voltage_v=400.0), rel=1e-12
        )
        == 60.0
    )


def test_what_is_below_sixty_volts_needs_no_bleed() -> None:
    assert bleed_seconds(bleed_ohm=10_000.0, capacitance_f=1e-3, voltage_v=48.0) == 0.0
    assert greatest_bleed_ohm(seconds=60.0, capacitance_f=1e-3, voltage_v=48.0) is None


# Source: Ohm's law; 20 A over 6 m out and 6 m back of 4 mm² copper, ρ = 1.72e-8 Ω m.
def test_a_twelve_volt_circuit_drops_a_volt() -> None:
    ohm = cable_resistance_ohm(length_m=12.0, area_mm2=4.0)
    assert pytest.approx(20 * ohm, abs=0.001) == 1.032
    warm = cable_resistance_ohm(length_m=12.0, area_mm2=4.0, conductor_c=28.9)
    assert pytest.approx(20 * warm, abs=0.001) == 1.068  # ρ = 1.78e-8 Ω m


# Source: UN Regulation No. 100, 5.1.3: 100 Ω/V for direct voltage alone, 500 Ω/V where joined.
def test_four_hundred_volts_ask_for_forty_or_two_hundred_kilohms() -> None:
    least = [
        least_isolation_ohm(working_voltage_v=400.0, ohm_per_v=per_v)
        for per_v in (DC_OHM_PER_V, JOINED_OHM_PER_V)
    ]
    assert least == [40_000.0, 200_000.0]


# Source: P = I V - I² R, solved by halving the interval instead of by its formula.
@pytest.mark.parametrize("power_w", [500.0, 27_000.0, 74_000.0, 150_000.0])
@pytest.mark.parametrize(("open_voltage_v", "resistance_ohm"), [(223.2, 0.05), (453.6, 0.2)])
def test_the_current_under_load_is_the_one_found_by_halving(
    power_w: float, open_voltage_v: float, resistance_ohm: float
) -> None:
    low_a, high_a = 0.0, open_voltage_v / (2 * resistance_ohm)
    for _ in range(200):
        middle_a = (low_a + high_a) / 2
        gives_less = middle_a * (open_voltage_v - middle_a * resistance_ohm) < power_w
        low_a, high_a = (middle_a, high_a) if gives_less else (low_a, middle_a)
    load = battery_load(
        power_w=power_w, open_voltage_v=open_voltage_v, resistance_ohm=resistance_ohm
    )
    assert low_a == pytest.approx(load.current_a, rel=1e-9)
    assert power_w == pytest.approx(load.power_w, rel=1e-9)
    assert load.is_enough


def test_beyond_its_greatest_power_a_battery_gives_half_its_voltage() -> None:
    load = battery_load(power_w=260_000.0, open_voltage_v=200.0, resistance_ohm=0.1)
    assert not load.is_enough
    assert (1000.0, 100.0, 100_000.0) == pytest.approx(
        (load.current_a, load.voltage_v, load.power_w)
    )
