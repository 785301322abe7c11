"""Tyre marks against the standard's table."""

from __future__ import annotations

import pytest

from configurator.physics.tyre import tyre_load_kg, tyre_speed_km_h

# Source: ISO 4000-1, load index table; LI 91 = 615 kg found, the rest typed from the table.
LOADS_KG = """
70 335  71 345  72 355  73 365  74 375  75 387  76 400  77 412  78 425  79 437
80 450  81 462  82 475  83 487  84 500  85 515  86 530  87 545  88 560  89 580
90 600  91 615  92 630  93 650  94 670  95 690  96 710  97 730  98 750  99 775
100 800  101 825  102 850  103 875  104 900  105 925  106 950  107 975  108 1000  109 1030
110 1060  111 1090  112 1120  113 1150  114 1180  115 1215  116 1250  117 1285  118 1320  119 1360
120 1400  121 1450
"""

# Source: UN Regulation No. 30, speed category symbols; from memory beyond V.
SPEEDS_KM_H = "L 120 M 130 N 140 P 150 Q 160 R 170 S 180 T 190 U 200 H 210 V 240 W 270 Y 300"


def test_every_load_index_carries_what_the_standard_says() -> None:
    numbers = [int(word) for word in LOADS_KG.split()]
    expected = dict(zip(numbers[::2], numbers[1::2], strict=True))
    assert list(range(70, 122)) == list(expected)
    assert expected == {index: tyre_load_kg(index) for index in expected}


@pytest.mark.parametrize("index", range(70, 122))
def test_loads_follow_the_geometric_step_of_the_standard(index: int) -> None:
    # Source: from memory, nobody has looked it up yet: 80 steps are a factor of ten from 45 kg at
    # index 0; the printed loads are rounded to preferred numbers, within 2 % of that.
    assert 45 * 10 ** (index / 80) == pytest.approx(tyre_load_kg(index), rel=0.02)


def test_every_speed_symbol_goes_as_fast_as_the_regulation_says() -> None:
    words = SPEEDS_KM_H.split()
    expected = {symbol: float(speed) for symbol, speed in zip(words[::2], words[1::2], strict=True)}
    assert expected == {symbol: tyre_speed_km_h(symbol) for symbol in expected}
