from __future__ import annotations

import pytest

from configurator.errors import MeasurementError
from configurator.physics.axle_limit import AxleLimit, axle_limit_kg


@pytest.mark.parametrize(
    ("axle_kg", "load_index", "wheel_kg", "expected"),
    [
        (1100.0, 91, 700.0, AxleLimit(1100.0, "axle")),
        (1400.0, 91, 700.0, AxleLimit(1230.0, "tyre")),
        (1400.0, 91, 600.0, AxleLimit(1200.0, "wheel")),
        (1230.0, 91, 615.0, AxleLimit(1230.0, "axle")),
        (1300.0, 91, 615.0, AxleLimit(1230.0, "tyre")),
    ],
)
def test_the_weakest_of_axle_tyres_and_wheels_sets_the_limit(
    axle_kg: float, load_index: int, wheel_kg: float, expected: AxleLimit
) -> None:
    assert expected == axle_limit_kg(axle_kg, load_index, wheel_kg)


@pytest.mark.parametrize(
    ("axle_kg", "load_index", "wheel_kg", "codes"),
    [(-1.0, 91, float("nan"), ["M002", "M001"]), (900.0, 60, 500.0, ["M009"])],
)
def test_an_impossible_rating_is_refused(
    axle_kg: float, load_index: int, wheel_kg: float, codes: list[str]
) -> None:
    with pytest.raises(MeasurementError) as refused:
        axle_limit_kg(axle_kg, load_index, wheel_kg)
    assert codes == [fault.code for fault in refused.value.faults]
