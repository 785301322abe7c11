from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.charging import (
    charging_hours,
    energy_from_mains_kwh,
    stored_power_kw,
)

TIME: dict[str, Any] = {
    "usable_energy_kwh": 40.0,
    "from_percent": 10.0,
    "to_percent": 100.0,
    "power_kw": 6.0,
    "taper_from_percent": 80.0,
    "end_power_share": 0.2,
}


@given(
    st.floats(0, 99), st.floats(0.5, 100), st.floats(0, 100), st.floats(0.01, 1), st.floats(1, 80)
)
def test_the_closed_form_agrees_with_adding_up_small_steps(
    start: float, rise: float, taper: float, share: float, power_kw: float
) -> None:
    end = min(start + rise, 100.0)
    hours = charging_hours(
        usable_energy_kwh=40.0,
        from_percent=start,
        to_percent=end,
        power_kw=power_kw,
        taper_from_percent=taper,
        end_power_share=share,
    )

    def power_at(charge: float) -> float:
        fall = max(0.0, charge - taper) / (100 - taper) if taper < 100 else 0.0
        return power_kw * (1 - fall * (1 - share))

    # Midpoint rule, apart below and above the start of the taper, where the power turns.
    corner = min(max(taper, start), end)
    added, steps = 0.0, 3000
    for low, high in ((start, corner), (corner, end)):
        width = (high - low) / steps
        added += sum(
            40.0 * width / 100 / power_at(low + (number + 0.5) * width) for number in range(steps)
        )
    assert added == pytest.approx(hours, rel=1e-3)


def test_charging_in_two_goes_takes_as_long_as_in_one() -> None:
    first = charging_hours(**{**TIME, "to_percent": 87.0})
    second = charging_hours(**{**TIME, "from_percent": 87.0})
    assert charging_hours(**TIME) == pytest.approx(first + second)


def test_a_power_that_hardly_falls_takes_as_long_as_one_that_does_not() -> None:
    steady = charging_hours(**{**TIME, "end_power_share": 1.0})
    assert steady == pytest.approx(0.9 * 40 / 6)
    assert steady == pytest.approx(charging_hours(**{**TIME, "end_power_share": 1 - 1e-15}))
    assert steady == charging_hours(**{**TIME, "taper_from_percent": 100.0})


@pytest.mark.parametrize(
    ("changes", "codes"),
    [
        ({"to_percent": 10.0}, ["M012"]),
        ({"to_percent": 101.0}, ["M006"]),
        ({"end_power_share": 0.0}, ["M004"]),
        ({"usable_energy_kwh": 0.0, "power_kw": float("nan")}, ["M002", "M001"]),
    ],
)
def test_impossible_charging_is_refused(changes: dict[str, Any], codes: list[str]) -> None:
    with pytest.raises(MeasurementError) as refused:
        charging_hours(**{**TIME, **changes})
    assert codes == [fault.code for fault in refused.value.faults]


VOLTAGES = (300.0, 350.0, 400.0)


@given(
    st.floats(0, 99),
    st.floats(0.5, 100),
    st.floats(0, 100),
    st.floats(5, 100),
    st.floats(20, 400),
)
def test_a_power_that_rises_with_the_voltage_agrees_with_adding_up_small_steps(
    start: float, rise: float, taper: float, power_kw: float, current_a: float
) -> None:
    end = min(start + rise, 100.0)
    inputs = {**TIME, "from_percent": start, "to_percent": end, "power_kw": power_kw}
    hours = charging_hours(
        **{**inputs, "taper_from_percent": taper}, current_a=current_a, voltages_v=VOLTAGES
    )
    charge = np.linspace(start, end, 20_001)
    middle = (charge[:-1] + charge[1:]) / 2
    full_kw = np.minimum(power_kw, current_a * (300 + middle) / 1000)
    fallen = np.maximum(0.0, middle - taper) / (100 - taper) if taper < 100 else 0.0
    added = float(np.sum(40.0 * np.diff(charge) / 100 / (full_kw * (1 - 0.8 * fallen))))
    assert added == pytest.approx(hours, rel=1e-4)


def test_a_current_that_never_binds_changes_nothing() -> None:
    free = charging_hours(**TIME)
    assert free == pytest.approx(
        charging_hours(**TIME, current_a=300.0, voltages_v=VOLTAGES), rel=1e-12
    )


@given(st.floats(20, 300), st.floats(0.1, 100))
def test_a_greater_current_never_takes_longer(current_a: float, more_a: float) -> None:
    inputs = {**TIME, "power_kw": 60.0}
    slower = charging_hours(**inputs, current_a=current_a, voltages_v=VOLTAGES)
    assert charging_hours(**inputs, current_a=current_a + more_a, voltages_v=VOLTAGES) <= slower


def test_a_current_and_voltages_that_cannot_be_are_refused() -> None:
    with pytest.raises(MeasurementError) as refused:
        charging_hours(**TIME, current_a=0.0, voltages_v=(-1.0, 350.0, 400.0))
    assert [fault.code for fault in refused.value.faults] == ["M002", "M002"]


def test_the_meter_counts_what_charger_and_battery_lose() -> None:
    # Source: first principles; 36 kWh in 6 h at 300 V are 20 A, which lose 20² x 0.1 W = 40 W.
    counted_kwh = energy_from_mains_kwh(
        stored_kwh=36.0,
        hours=6.0,
        charger_efficiency=0.9,
        pack_resistance_ohm=0.1,
        pack_voltage_v=300.0,
    )
    assert (36 + 0.24) / 0.9 == pytest.approx(counted_kwh)


@given(st.floats(0, 300), st.floats(0, 1), st.floats(20, 800))
def test_what_is_stored_and_what_is_lost_make_the_power_at_the_terminals(
    power_kw: float, resistance_ohm: float, voltage_v: float
) -> None:
    stored_kw = stored_power_kw(
        power_kw=power_kw, resistance_ohm=resistance_ohm, voltage_v=voltage_v
    )
    current_a = 1000 * stored_kw / voltage_v
    lost_kw = current_a**2 * resistance_ohm / 1000
    assert power_kw == pytest.approx(stored_kw + lost_kw, rel=1e-9)


def test_impossible_powers_to_store_are_refused() -> None:
    with pytest.raises(MeasurementError) as refused:
        stored_power_kw(power_kw=-1.0, resistance_ohm=float("nan"), voltage_v=0.0)
    assert ["M003", "M001", "M002"] == [fault.code for fault in refused.value.faults]
