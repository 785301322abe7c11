"""The control pilot against the standard's table."""

from __future__ import annotations

import pytest

from configurator.physics.control_pilot import pilot_current_a, pilot_duty_percent

# Source: IEC 61851-1 annex A, duty cycle [%] and greatest current [A].
TABLE = """
8 6.0  9 6.0  10 6.0  11 6.6  12 7.2  13 7.8  14 8.4  15 9.0  16 9.6  17 10.2
18 10.8  19 11.4  20 12.0  21 12.6  22 13.2  23 13.8  24 14.4  25 15.0  26 15.6  27 16.2
28 16.8  29 17.4  30 18.0  31 18.6  32 19.2  33 19.8  34 20.4  35 21.0  36 21.6  37 22.2
38 22.8  39 23.4  40 24.0  41 24.6  42 25.2  43 25.8  44 26.4  45 27.0  46 27.6  47 28.2
48 28.8  49 29.4  50 30.0  51 30.6  52 31.2  53 31.8  54 32.4  55 33.0  56 33.6  57 34.2
58 34.8  59 35.4  60 36.0  61 36.6  62 37.2  63 37.8  64 38.4  65 39.0  66 39.6  67 40.2
68 40.8  69 41.4  70 42.0  71 42.6  72 43.2  73 43.8  74 44.4  75 45.0  76 45.6  77 46.2
78 46.8  79 47.4  80 48.0  81 48.6  82 49.2  83 49.8  84 50.4  85 51.0  86 55.0  87 57.5
88 60.0  89 62.5  90 65.0  91 67.5  92 70.0  93 72.5  94 75.0  95 77.5  96 80.0  97 80.0
"""
WORDS = TABLE.split()
ROWS = [(float(d), float(a)) for d, a in zip(WORDS[::2], WORDS[1::2], strict=True)]


def test_the_table_has_every_percent_from_8_to_97() -> None:
    assert list(range(8, 98)) == [duty for duty, _ in ROWS]


@pytest.mark.parametrize(("duty_percent", "current_a"), ROWS)
def test_each_duty_cycle_stands_for_the_current_of_the_standard(
    duty_percent: float, current_a: float
) -> None:
    assert current_a == pytest.approx(pilot_current_a(duty_percent))


@pytest.mark.parametrize(("duty_percent", "current_a"), [row for row in ROWS if 10 <= row[0] <= 96])
def test_each_current_is_offered_by_the_duty_cycle_of_the_standard(
    duty_percent: float, current_a: float
) -> None:
    assert duty_percent == pytest.approx(pilot_duty_percent(current_a))
