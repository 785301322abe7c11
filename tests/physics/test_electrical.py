from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.electrical_currents import (
    battery_load,
    short_circuit_a,
    terminal_power_w,
)
from configurator.physics.electrical_link import bleed_seconds, greatest_bleed_ohm
from configurator.physics.electrical_sizing import (
    cable_resistance_ohm,
    converter_input_a,
    derated_current_a,
)

POWER_W = st.floats(min_value=0, max_value=400_000)
VOLTAGE_V = st.floats(min_value=20, max_value=1000)
OHM = st.floats(min_value=0.001, max_value=5)


@settings(max_examples=100, deadline=None)
@given(power_w=POWER_W, voltage_v=VOLTAGE_V, ohm=OHM)
def test_power_at_the_terminals_and_heat_inside_are_what_the_cells_give(
    power_w: float, voltage_v: float, ohm: float
) -> None:
    load = battery_load(power_w=power_w, open_voltage_v=voltage_v, resistance_ohm=ohm)
    from_cells_w = voltage_v * load.current_a
    assert from_cells_w == pytest.approx(load.power_w + load.current_a**2 * ohm, rel=1e-9, abs=1e-6)
    assert load.voltage_v >= voltage_v / 2 * (1 - 1e-9)
    assert load.is_enough == (load.power_w == pytest.approx(power_w, rel=1e-7, abs=1e-6))


@settings(max_examples=100, deadline=None)
@given(power_w=POWER_W, voltage_v=VOLTAGE_V, ohm=OHM, more=st.floats(min_value=1.01, max_value=3))
def test_a_colder_battery_or_a_lower_voltage_never_lowers_the_current(
    power_w: float, voltage_v: float, ohm: float, more: float
) -> None:
    load = battery_load(power_w=power_w, open_voltage_v=voltage_v, resistance_ohm=ohm)
    fuller = battery_load(power_w=power_w, open_voltage_v=voltage_v * more, resistance_ohm=ohm)
    colder = battery_load(power_w=power_w, open_voltage_v=voltage_v, resistance_ohm=ohm * more)
    if fuller.is_enough and load.is_enough:
        assert fuller.current_a <= load.current_a * (1 + 1e-12)
    if colder.is_enough:
        assert colder.current_a >= load.current_a * (1 - 1e-12)


def test_without_resistance_the_voltage_does_not_sag() -> None:
    load = battery_load(power_w=30_000.0, open_voltage_v=300.0, resistance_ohm=0.0)
    assert (100.0, 300.0, True) == (load.current_a, load.voltage_v, load.is_enough)


@settings(max_examples=60, deadline=None)
@given(
    ohm=st.floats(min_value=100, max_value=1e6),
    farad=st.floats(min_value=1e-5, max_value=1e-2),
    voltage_v=st.floats(min_value=61, max_value=1000),
)
def test_the_greatest_bleed_takes_the_time_that_was_allowed(
    ohm: float, farad: float, voltage_v: float
) -> None:
    seconds = bleed_seconds(bleed_ohm=ohm, capacitance_f=farad, voltage_v=voltage_v)
    found = greatest_bleed_ohm(seconds=seconds, capacitance_f=farad, voltage_v=voltage_v)
    assert ohm == pytest.approx(found, rel=1e-9)


def test_a_cable_in_air_as_hot_as_its_conductor_may_be_carries_nothing() -> None:
    assert derated_current_a(rated_a=200.0, max_conductor_c=90.0, ambient_c=95.0) == 0.0


def test_a_cold_place_lets_a_cable_carry_more() -> None:
    assert derated_current_a(rated_a=200.0, max_conductor_c=90.0, ambient_c=0.0) > 200.0


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (
            lambda: battery_load(power_w=-1.0, open_voltage_v=0.0, resistance_ohm=math.nan),
            ("power_w", "open_voltage_v", "resistance_ohm"),
        ),
        (
            lambda: terminal_power_w(mechanical_w=-1.0, efficiency=1.2, auxiliary_w=-3.0),
            ("mechanical_w", "efficiency", "auxiliary_w"),
        ),
        (lambda: short_circuit_a(open_voltage_v=400.0, resistance_ohm=0.0), ("resistance_ohm",)),
        (
            lambda: derated_current_a(rated_a=0.0, max_conductor_c=30.0, ambient_c=math.inf),
            ("rated_a", "max_conductor_c", "ambient_c"),
        ),
        (
            lambda: cable_resistance_ohm(length_m=-1.0, area_mm2=0.0),
            ("length_m", "area_mm2"),
        ),
        (
            lambda: converter_input_a(load_w=-1.0, efficiency=0.0, voltage_v=0.0),
            ("load_w", "efficiency", "voltage_v"),
        ),
    ],
)
def test_impossible_values_are_refused_all_at_once(
    call: Callable[[], object], names: tuple[str, ...]
) -> None:
    with pytest.raises(MeasurementError) as caught:
        call()
    said = str(caught.value)
    assert [] == [name for name in names if name not in said]
