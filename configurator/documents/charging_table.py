"""Charging by source: times warm and cold, what limits it, range gained, cost, letter."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from configurator.build_spec.charging_result import ChargingLine
from configurator.build_spec.charging_words import (
    HOW_COMPUTED,
    label_words,
    limit_words,
    supply_words,
)
from configurator.documents.figures import duration, duration_span, number, pounds, span
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

_IN_BRIEF = (
    "Computed, by the weakest of source, cable, inlet, charger and battery; cost by the tariffs of "
    "the day they were looked up."
)


def charging_blocks(lines: Sequence[ChargingLine]) -> list[Flowable]:
    """Show the time from each source, or say that none is known."""
    if not lines:
        return [small("No charging time is computed: no charger is chosen yet.")]
    told = [line for line in lines if line.power_kw is not None]
    if len(told) < len(lines):
        return [_times(lines)]
    return [_times_and_limits(lines), _what_it_gives(lines), small(HOW_COMPUTED)]


def charging_brief(lines: Sequence[ChargingLine]) -> list[Flowable]:
    """Show on one line for each source what a customer asks: how long, how far, at what cost."""
    if not lines or any(line.power_kw is None for line in lines):
        return charging_blocks(lines)
    case = _gained_case(lines)
    gained = f" Range gained: {case}." if case else ""
    return [Noted(_in_brief(lines), small(f"{_IN_BRIEF}{gained}"))]


def _in_brief(lines: Sequence[ChargingLine]) -> Flowable:
    rows = [
        (
            line.label,
            _from_to(line),
            f"{number(line.power_kw or 0, 1)} kW",
            duration_span(line.low_hours, line.high_hours),
            _cold(line),
            _range_gained(line),
            _costs(line),
        )
        for line in lines
    ]
    head = ("Source", "Charge", "Power", "Time at 20 °C", _cold_head(lines))
    shares = (0.23, 0.105, 0.09, 0.12, 0.115, 0.14, 0.2)
    return headed_table((*head, "Range an hour", "Cost"), rows, shares, figures=(1, 2, 3, 4, 5))


def _cold_head(lines: Sequence[ChargingLine]) -> str:
    cold_c = lines[0].cold_c
    return "Cold battery" if cold_c is None else f"At {number(cold_c)} °C"


def _times(lines: Sequence[ChargingLine]) -> Flowable:
    rows = [
        (
            line.label,
            supply_words(line),
            _from_to(line),
            duration_span(line.low_hours, line.high_hours),
        )
        for line in lines
    ]
    head = ("Source", "Supply", "From and to", "Time, computed, battery at 20 °C")
    return headed_table(head, rows, (0.32, 0.26, 0.14, 0.28), figures=(2, 3))


def _times_and_limits(lines: Sequence[ChargingLine]) -> Flowable:
    rows = [
        (
            line.label,
            supply_words(line),
            _from_to(line),
            f"{number(line.power_kw or 0, 1)} kW",
            limit_words(line),
            duration_span(line.low_hours, line.high_hours),
            _cold(line),
        )
        for line in lines
    ]
    head = (
        "Source",
        "Supply",
        "From and to",
        "Power",
        "Limited by",
        "Time, computed, at 20 °C",
        _cold_head(lines),
    )
    return headed_table(
        head, rows, (0.2, 0.2, 0.105, 0.09, 0.135, 0.16, 0.11), figures=(2, 3, 5, 6)
    )


def _what_it_gives(lines: Sequence[ChargingLine]) -> Flowable:
    rows = [
        (
            line.label,
            _range_gained(line),
            "—" if line.mains_kwh is None else f"{number(line.mains_kwh, 1)} kWh",
            _costs(line),
            label_words(line),
        )
        for line in lines
    ]
    head = ("Source", _gained_head(lines), "From the mains", "Cost", "Letter to look for")
    return headed_table(head, rows, (0.2, 0.15, 0.11, 0.29, 0.25), figures=(1, 2))


def _gained_head(lines: Sequence[ChargingLine]) -> str:
    case = _gained_case(lines)
    return f"Range an hour, {case}" if case else "Range an hour"


def _gained_case(lines: Sequence[ChargingLine]) -> str:
    case = next((line.km_case for line in lines if line.km_case), "")
    return f"{case[:1].lower()}{case[1:]}"


def _from_to(line: ChargingLine) -> str:
    return f"{number(line.from_percent)}–{number(line.to_percent)} %"


def _cold(line: ChargingLine) -> str:
    if line.cold_hours is None:
        return "warm it first"
    return duration(line.cold_hours)


def _range_gained(line: ChargingLine) -> str:
    if line.km_per_hour_low is None or line.km_per_hour_high is None:
        return "—"
    return span(line.km_per_hour_low, line.km_per_hour_high, unit="km")


def _costs(line: ChargingLine) -> str:
    return "\n".join(f"{cost.tariff_label} {pounds(cost.cost_gbp)}" for cost in line.costs) or "—"
