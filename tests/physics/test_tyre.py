from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from configurator.errors import MeasurementError
from configurator.physics.tyre import tyre_load_kg, tyre_speed_km_h


def test_a_higher_load_index_carries_more() -> None:
    loads = [tyre_load_kg(index) for index in range(70, 122)]
    assert all(lower < higher for lower, higher in pairwise(loads))


@pytest.mark.parametrize("index", [69, 122, 0, -1, 90.5, float("nan")])
def test_a_load_index_that_is_not_in_the_table_is_refused(index: Any) -> None:
    with pytest.raises(MeasurementError) as refused:
        tyre_load_kg(index)
    assert [fault.code for fault in refused.value.faults] == ["M009"]


@pytest.mark.parametrize("symbol", ["", "O", "t", "TT"])
def test_a_speed_symbol_that_is_not_in_the_table_is_refused(symbol: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        tyre_speed_km_h(symbol)
    assert [fault.code for fault in refused.value.faults] == ["M010"]
