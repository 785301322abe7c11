"""The losses fitted to a drive's efficiencies."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.drive_losses import drive_losses

LOADS = (0.02, 0.05, 0.1, 0.3, 0.6, 1.0)


@given(st.floats(0, 2000), st.floats(0, 0.3), st.floats(0, 0.1))
def test_the_losses_that_made_the_efficiencies_are_found_again(
    no_load_w: float, linear: float, at_peak: float
) -> None:
    peak_w = 80_000.0

    def efficiency(load: float) -> float:
        given = load * peak_w
        return given / (given * (1 + linear) + no_load_w + at_peak * given**2 / peak_w)

    fit = drive_losses(peak_w, {load: efficiency(load) for load in LOADS})
    assert no_load_w == pytest.approx(fit.no_load_w, abs=0.01)
    assert 1 / (1 + linear) == pytest.approx(fit.efficiency, rel=1e-6)
    assert at_peak / peak_w == pytest.approx(fit.per_w, abs=1e-11)
    assert fit.rms_percent < 1e-3


@given(st.lists(st.floats(0.3, 0.98), min_size=6, max_size=6))
def test_no_loss_is_negative_whatever_was_measured(efficiencies: list[float]) -> None:
    fit = drive_losses(60_000.0, dict(zip(LOADS, efficiencies, strict=True)))
    assert fit.no_load_w >= 0
    assert 0 < fit.efficiency <= 1
    assert fit.per_w >= 0


def test_a_drive_without_loss_is_found_to_have_none() -> None:
    fit = drive_losses(60_000.0, dict.fromkeys(LOADS, 1.0))
    assert (0.0, 1.0, 0.0, 0.0) == (fit.no_load_w, fit.efficiency, fit.per_w, fit.rms_percent)


@pytest.mark.parametrize(
    ("points", "code"),
    [
        ({0.1: 0.9, 0.5: 0.92}, "M020"),
        ({0.0: 0.9, 0.5: 0.92, 1.0: 0.9}, "M002"),
        ({0.1: 0.9, 0.5: 1.2, 1.0: 0.9}, "M004"),
        ({0.1: 0.9, 0.5: float("nan"), 1.0: 0.9}, "M001"),
    ],
)
def test_impossible_efficiencies_are_refused(points: dict[float, float], code: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        drive_losses(60_000.0, points)
    assert [code] == [fault.code for fault in refused.value.faults]
