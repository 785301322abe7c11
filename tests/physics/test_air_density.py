from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.air_density import air_density_kg_m3


@given(st.floats(-60, 59), st.floats(-1000, 10_900))
def test_air_thins_with_warmth_and_with_height(temperature_c: float, altitude_m: float) -> None:
    here = air_density_kg_m3(temperature_c, altitude_m)
    assert air_density_kg_m3(temperature_c + 1, altitude_m) < here
    assert air_density_kg_m3(temperature_c, altitude_m + 100) < here


def test_an_impossible_day_is_refused_with_both_reasons() -> None:
    with pytest.raises(MeasurementError) as refused:
        air_density_kg_m3(-300.0, 12_000.0)
    assert [fault.code for fault in refused.value.faults] == ["M007", "M008"]
