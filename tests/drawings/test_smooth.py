from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.drawings.shapes import Paint
from configurator.drawings.smooth import flattened, smooth_curve, smooth_points

coordinate = st.floats(-5, 5, allow_nan=False)
points = st.lists(st.tuples(coordinate, coordinate), min_size=1, max_size=12)


@given(points, st.booleans())
def test_a_curve_passes_through_its_points(
    through: list[tuple[float, float]], closed: bool
) -> None:
    curve = smooth_curve(through, Paint(), closed=closed)
    ends = {curve.start, *(cubic[2] for cubic in curve.cubics)}
    for point in through:
        nearest = min(abs(point[0] - x) + abs(point[1] - y) for x, y in ends)
        assert nearest == pytest.approx(0.0, abs=1e-5)


def test_a_square_keeps_its_corners() -> None:
    square = ((0.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, 0.0))
    for x, z in smooth_points(square, closed=True):
        assert min(abs(x), abs(1 - x), abs(z), abs(1 - z)) == pytest.approx(0.0, abs=1e-9)


def test_gentle_turns_have_no_kink() -> None:
    curve = smooth_curve(((0.0, 0.0), (1.0, 0.2), (2.0, 0.0)), Paint(), closed=False)
    (_, arriving, joint), (leaving, _, _) = curve.cubics
    assert joint[0] - arriving[0] == pytest.approx(leaving[0] - joint[0])
    assert joint[1] - arriving[1] == pytest.approx(leaving[1] - joint[1])


def test_a_long_sill_beside_a_rounded_end_stays_nearly_straight() -> None:
    line = ((0.0, 0.3), (3.5, 0.3), (3.6, 0.35), (3.65, 0.42))
    curve = smooth_curve(line, Paint(), closed=False)
    along = [z for x, z in flattened(curve) if x <= 3.5]
    assert max(abs(z - 0.3) for z in along) < 0.01
