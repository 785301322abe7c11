"""The bundled cycles against the lengths and sums of the regulations."""

from __future__ import annotations

from decimal import Decimal
from itertools import accumulate, pairwise
from pathlib import Path

import pytest

from configurator.catalog import cycles
from tests.physics.road_vehicles import CYCLE_IDS, cycle_km_h

KM_PER_MILE = Decimal("1.609344")

FOLDER = Path(cycles.__path__[0])

# Source: UN GTR No. 15, annex 1: phases of 589, 433, 455 and 323 s, sums of the speeds at 1 Hz.
WLTC = {
    "wltc-class-1": ((589, 433), 29151.2, 64.4),
    "wltc-class-2": ((589, 433, 455, 323), 81536.9, 123.1),
    "wltc-class-3a": ((589, 433, 455, 323), 83496.9, 131.3),
    "wltc-class-3b": ((589, 433, 455, 323), 83758.6, 131.3),
}

# Source: UN GTR No. 15, annex 1, length of each phase of the class 3b cycle [m].
PHASES_OF_3B_M = (3095, 4756, 7162, 8254)

# Source: UN Regulation No. 83, operating cycle on the dynamometer: (duration [s], speed at its end
# [km/h]); the urban part is driven four times.
URBAN = """
11 0  4 15  8 15  2 10  3 0  21 0  5 15  2 15  5 32  24 32  8 10  3 0  21 0  5 15  2 15  9 35
2 35  8 50  12 50  8 35  13 35  2 32  7 10  3 0  7 0
"""
EXTRA_URBAN = """
20 0  5 15  2 15  9 35  2 35  8 50  2 50  13 70  50 70  8 50  69 50  13 70  50 70  35 100
30 100  20 120  10 120  16 80  8 50  10 0  20 0
"""


@pytest.mark.parametrize("cycle_id", WLTC)
def test_a_wltc_has_the_duration_sum_and_top_speed_of_the_regulation(cycle_id: str) -> None:
    phases, speed_sum, top_km_h = WLTC[cycle_id]
    speeds = cycle_km_h(cycle_id)
    assert sum(phases) + 1 == len(speeds)
    assert speed_sum == pytest.approx(sum(speeds))
    assert top_km_h == max(speeds)


@pytest.mark.parametrize("cycle_id", WLTC)
def test_a_wltc_stands_still_between_its_phases(cycle_id: str) -> None:
    speeds = cycle_km_h(cycle_id)
    ends = [0, *accumulate(WLTC[cycle_id][0])]
    assert [0.0] * len(ends) == [speeds[second] for second in ends]


def test_the_phases_of_class_3b_have_the_lengths_of_the_regulation() -> None:
    speeds = cycle_km_h("wltc-class-3b")
    ends = [0, *accumulate(WLTC["wltc-class-3b"][0])]
    lengths = [sum(speeds[start:end]) / 3.6 for start, end in pairwise(ends)]
    assert lengths == pytest.approx(PHASES_OF_3B_M, abs=1)


# Source: the same lengths as an independent open library of cycles gives [km].
@pytest.mark.parametrize(
    ("cycle_id", "length_km"),
    [
        ("wltc-class-1", 8.0976),
        ("wltc-class-2", 22.6491),
        ("wltc-class-3a", 23.1936),
        ("wltc-class-3b", 23.2663),
        ("nedc", 11.0132),
        ("udds", 11.9902),
        ("hwfet", 16.5065),
    ],
)
def test_a_cycle_is_as_long_as_it_should_be(cycle_id: str, length_km: float) -> None:
    assert sum(cycle_km_h(cycle_id)) / 3600 == pytest.approx(length_km, abs=5e-5)


def test_the_nedc_follows_the_operations_of_the_regulation() -> None:
    words = [int(word) for word in (URBAN * 4 + EXTRA_URBAN).split()]
    expected = [0.0]
    for duration, end in zip(words[::2], words[1::2], strict=True):
        start = expected[-1]
        expected += [start + (end - start) * s / duration for s in range(1, duration + 1)]
    assert len(expected) == 4 * 195 + 400 + 1
    assert expected == pytest.approx(cycle_km_h("nedc"), abs=1e-4)


# Source: 40 CFR Part 86, appendix I, (a), and 40 CFR Part 600, appendix I: last second; greatest
# speed [mph]; some seconds with their speeds [mph], read from the printed tables.
AMERICAN = {
    "udds": (1369, 56.7, {20: 0.0, 21: 3.0, 24: 11.5, 57: 19.8, 112: 32.2, 164: 3.3, 183: 24.0}),
    "hwfet": (765, 59.9, {0: 0.0, 765: 0.0}),
}


@pytest.mark.parametrize("cycle_id", AMERICAN)
def test_an_american_cycle_has_whole_tenths_of_miles_per_hour(cycle_id: str) -> None:
    last, top_mph, known = AMERICAN[cycle_id]
    miles = [Decimal(line) / KM_PER_MILE for line in _speeds(cycle_id)]
    assert last == len(miles) - 1
    assert top_mph == float(max(miles))
    assert [round(mile, 1) for mile in miles] == miles
    assert known == {second: float(miles[second]) for second in known}


def _speeds(cycle_id: str) -> list[str]:
    lines = (FOLDER / f"{cycle_id}.csv").read_text("utf-8").splitlines()
    return [line.split(",")[1] for line in lines[3:]]


@pytest.mark.parametrize("cycle_id", CYCLE_IDS)
def test_a_cycle_file_says_its_label_and_source_and_counts_the_seconds(cycle_id: str) -> None:
    lines = (FOLDER / f"{cycle_id}.csv").read_text("utf-8").splitlines()
    assert lines[0].startswith("# label: ")
    assert lines[1].startswith(("# source: UN ", "# source: 40 CFR Part "))
    assert lines[2] == "time_s,speed_km_h"
    assert [str(s) for s in range(len(lines) - 3)] == [line.split(",")[0] for line in lines[3:]]
    assert set(CYCLE_IDS) == {path.stem for path in FOLDER.glob("*.csv")}
