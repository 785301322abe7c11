"""The page of charging and driving: words for limits, cold, cost; sentences of people escaped."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from configurator.app.view_models.charging_and_drive import (
    ability_topics,
    charging_rows,
    cold_head,
    gained_head,
)
from configurator.build_spec.charging_result import ChargingCost, ChargingLine
from configurator.build_spec.performance_result import PerformanceLine
from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words

OPEN: dict[str, Any] = {
    "source_id": "post",
    "label": "Post",
    "supply": "ac",
    "from_percent": 10,
    "to_percent": 100,
    "low_hours": 5.0,
    "high_hours": 6.5,
    "pilot_duty_percent": 53.3,
    "voltage_v": 230,
    "current_a": 32,
    "phases": 3,
    "cable_current_a": 32,
}
COMPLETE: dict[str, Any] = {
    **OPEN,
    "high_hours": 5.0,
    "power_kw": 6.072,
    "limited_by": "charger",
    "phases_used": 1,
    "cold_c": -5,
    "cold_hours": 11.25,
    "cold_limited_by": "temperature",
    "km_per_hour_low": 21.9,
    "km_per_hour_high": 25.1,
    "km_case": "Round in June",
    "mains_kwh": 40.04,
    "costs": (
        ChargingCost(
            tariff_label="By night", pence_per_kwh=Decimal("9.20"), cost_gbp=Decimal("3.68")
        ),
    ),
    "socket_label": "C",
}


def test_while_choices_are_open_only_times_are_told(open_screens: Opener) -> None:
    said = words(by_the_papers(start_enquiry(open_screens()), "charging"))
    assert "still open: Cells" in said
    assert "Letter to look for" not in said
    assert "What the drive can do" not in said
    assert "Limited by" not in said
    assert "colder than their maker allows" in said


def test_a_complete_build_shows_limits_cost_and_what_the_drive_can_do(
    open_screens: Opener,
) -> None:
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    said = words(by_the_papers(screen, "charging"))
    for part in ("Limited by", "Battery at 0", "Letter to look for", "0 to 50 km/h", "Fast road"):
        assert part in said
    assert "short-circuit within and burn" in said
    for part in ("protective earth", "licensed electrician", "nothing is approved by it"):
        assert part in said
    assert screen.button(key="to-papers").click().run().button(key="to-charging")


def test_a_source_says_what_limits_it_and_what_it_gives() -> None:
    line = ChargingLine(**COMPLETE)
    [row] = charging_rows([line])
    assert "charger, one phase of its three; at −5 °C the cold battery" == row.limited_by
    assert "AC, 230 V, 32 A, three phases; cable for 32 A" == row.supply
    assert ("5\xa0h\xa000\xa0min", "11\xa0h\xa015\xa0min") == (row.time, row.cold)
    assert ("21–26\xa0km", "40.0\xa0kWh") == (row.range_gained, row.from_mains)
    assert ("By night, 9.20\xa0p: £3.68",) == row.costs
    assert "C, on inlet and the cable's plug" == row.letter
    assert ("Battery at −5\xa0°C", "Range an hour, round in June") == (
        cold_head([line]),
        gained_head([line]),
    )


def test_a_battery_too_cold_to_charge_is_to_be_warmed_first() -> None:
    [row] = charging_rows([ChargingLine(**{**COMPLETE, "cold_hours": None})])
    assert "Warm it first" == row.cold
    assert row.limited_by.endswith("at −5 °C the cold battery takes no charge")


def test_a_limit_that_is_the_same_in_the_cold_is_told_once() -> None:
    [row] = charging_rows([ChargingLine(**{**COMPLETE, "cold_limited_by": "charger"})])
    assert "charger, one phase of its three" == row.limited_by


def test_while_choices_are_open_a_source_tells_its_time_alone() -> None:
    [row] = charging_rows([ChargingLine(**OPEN)])
    assert "5\xa0h\xa000\xa0min to 6\xa0h\xa030\xa0min" == row.time
    assert {"—"} == {row.power, row.limited_by, row.cold, row.range_gained, row.letter}


def test_a_number_of_the_drive_stands_with_its_doubt() -> None:
    line = PerformanceLine(
        id="a",
        topic="Top speed",
        label="Top speed",
        value=112.3,
        unit="km/h",
        decimals=0,
        sigma=3.4,
        how="power",
        source="first principles",
    )
    [topic] = ability_topics([line])
    assert ["112 ± 7\xa0km/h"] == [row.value for row in topic.rows]


def test_a_number_of_the_drive_is_rounded_to_the_side_that_holds() -> None:
    common: dict[str, Any] = {
        "topic": "Fast road",
        "label": "110 km/h",
        "how": "drag",
        "source": "first principles",
    }
    lines = [
        PerformanceLine(id="a", value=24.91, unit="kW", decimals=1, rounding="up", **common),
        PerformanceLine(id="b", value=18.9, unit="%", decimals=0, rounding="down", **common),
        PerformanceLine(
            id="c", value=None, unit="s", decimals=1, limited_by="the motor", note="No.", **common
        ),
    ]
    [topic] = ability_topics(lines)
    assert ["25.0\xa0kW", "18\xa0%", "—"] == [row.value for row in topic.rows]
    assert ["", "", "The motor. No."] == [row.remark for row in topic.rows]
    assert ["Drag. Source: first principles.", "", ""] == [row.how for row in topic.rows]
