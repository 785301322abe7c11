from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.charging import ac_power_kw, charging_hours, dc_power_kw

AC: dict[str, Any] = {
    "source_voltage_v": 230.0,
    "source_current_a": 32.0,
    "source_phases": 3,
    "source_max_power_kw": 22.0,
    "charger_power_kw": 11.0,
    "charger_phases": 3,
    "charger_max_current_a": 16.0,
    "charger_efficiency": 1.0,
    "pack_peak_charge_kw": 50.0,
}
DC: dict[str, Any] = {
    "source_max_power_kw": 50.0,
    "source_current_a": 125.0,
    "inlet_max_power_kw": 60.0,
    "inlet_max_current_a": 150.0,
    "pack_nominal_voltage_v": 380.0,
    "pack_peak_charge_kw": 45.0,
}
TIME: dict[str, Any] = {
    "usable_energy_kwh": 40.0,
    "from_percent": 10.0,
    "to_percent": 100.0,
    "power_kw": 6.0,
    "taper_from_percent": 80.0,
    "end_power_share": 0.2,
}


@pytest.mark.parametrize(
    ("changes", "expected_kw"),
    [
        ({}, 11.0),
        ({"charger_power_kw": 22.0, "charger_max_current_a": 16.0}, 11.04),
        ({"source_current_a": 10.0}, 6.9),
        ({"source_phases": 1}, 11.0 / 3),
        ({"charger_phases": 1, "charger_power_kw": 6.6, "charger_max_current_a": 32.0}, 6.6),
        ({"charger_phases": 1, "charger_power_kw": 6.6, "source_current_a": 10.0}, 2.3),
        ({"source_max_power_kw": 7.4}, 7.4),
        ({"charger_efficiency": 0.9}, 9.9),
        ({"pack_peak_charge_kw": 8.0}, 8.0),
    ],
)
def test_the_weakest_link_sets_the_ac_power(changes: dict[str, Any], expected_kw: float) -> None:
    assert expected_kw == pytest.approx(ac_power_kw(**{**AC, **changes}))


@pytest.mark.parametrize(
    ("changes", "expected_kw"),
    [
        ({}, 45.0),
        ({"pack_peak_charge_kw": 90.0}, 47.5),
        ({"pack_peak_charge_kw": 90.0, "source_max_power_kw": 20.0}, 20.0),
        ({"pack_peak_charge_kw": 90.0, "inlet_max_power_kw": 30.0}, 30.0),
        ({"inlet_max_current_a": 100.0}, 38.0),
    ],
)
def test_the_weakest_link_sets_the_dc_power(changes: dict[str, Any], expected_kw: float) -> None:
    assert expected_kw == pytest.approx(dc_power_kw(**{**DC, **changes}))


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


def test_a_supply_of_two_phases_is_refused() -> None:
    with pytest.raises(MeasurementError) as refused:
        ac_power_kw(**{**AC, "source_phases": 2, "charger_efficiency": 0.0})
    assert [fault.code for fault in refused.value.faults] == ["M017", "M004"]


@pytest.mark.parametrize("name", sorted(DC))
def test_every_dc_value_must_be_above_zero(name: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        dc_power_kw(**{**DC, name: 0.0})
    assert [fault.code for fault in refused.value.faults] == ["M002"]
