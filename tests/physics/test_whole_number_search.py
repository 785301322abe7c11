from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from configurator.physics.trip_arrays import Floats
from configurator.physics.whole_number_search import Rows, Wholes, greatest_whole


@given(
    st.lists(st.tuples(st.floats(-50, 1050), st.floats(0.2, 8)), min_size=1, max_size=6),
    st.integers(0, 1000),
)
def test_the_search_finds_what_looking_at_each_number_finds(
    curves: list[tuple[float, float]], greatest: int
) -> None:
    roots = np.array([root for root, _ in curves])
    powers = np.array([power for _, power in curves])

    def spare(rows: Rows, wholes: Wholes) -> Floats:
        gap = roots[rows] - wholes
        return np.asarray(np.sign(gap) * np.abs(gap) ** powers[rows])

    expected = []
    for row in range(len(curves)):
        at = spare(np.full(greatest + 1, row), np.arange(greatest + 1))
        expected.append(int(np.flatnonzero(at >= 0)[-1]) if at[0] >= 0 else -1)
    assert expected == greatest_whole(spare, len(curves), 0, greatest).tolist()


def test_a_hundred_roots_in_three_million_are_found_in_a_few_looks() -> None:
    looks = 0

    def spare(rows: Rows, wholes: Wholes) -> Floats:
        nonlocal looks
        looks += 1
        return np.asarray(1e8 / wholes - (40.0 + rows))

    found = greatest_whole(spare, 100, 700_000, 3_000_000)
    assert [int(1e8 // (40 + row)) for row in range(100)] == found.tolist()
    assert looks <= 22
