from __future__ import annotations

import pytest

from configurator.catalog.cycle_files import bundled_cycles, cycle_from_csv
from configurator.errors import CatalogError

HEAD = "# label: Short\n# source: none\ntime_s,speed_km_h\n"


def test_every_bundled_cycle_begins_and_ends_at_rest() -> None:
    cycles = bundled_cycles()
    assert cycles
    for cycle in cycles:
        assert cycle.speed_km_h[0] == 0
        assert cycle.speed_km_h[-1] == 0


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("time_s,speed_km_h\n0,0\n1,5\n", 1),
        (HEAD.replace("time_s", "t") + "0,0\n1,5\n", 1),
        (HEAD + "0,0\n", 1),
        (HEAD + "0,0\n2,5\n", 5),
        (HEAD + "0,0\n1,nan\n", 5),
        (HEAD + "0,0\n1,-3\n", 5),
        (HEAD + "0,0\n1\n2,5\n", 5),
        (HEAD + "0,0\n1,fast\n2,5\n", 5),
    ],
)
def test_a_damaged_cycle_is_told_with_its_line(text: str, line: int) -> None:
    with pytest.raises(CatalogError) as caught:
        cycle_from_csv(text, "short.csv")
    told = [(fault.code, fault.where) for fault in caught.value.faults]
    assert ("C017", f"short.csv:{line}") in told
