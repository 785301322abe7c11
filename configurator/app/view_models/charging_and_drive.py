"""Charging and the drive's ability as the screen shows them: rows of words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from configurator.app.view_models.words import (
    MINUS,
    UNBROKEN_SPACE,
    source_told,
    time_from_to,
    time_taken,
)
from configurator.app.view_models.worked_figures import ability_key, charging_key
from configurator.build_spec.charging_result import ChargingLine
from configurator.build_spec.charging_words import label_words, limit_words, supply_words
from configurator.build_spec.derivations.explain import Key
from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.sentences import still_open
from configurator.build_spec.spec import Spec

DASH = "—"


@dataclass(frozen=True)
class ChargingRow:
    """One source."""

    worked_out: Key
    source: str
    supply: str
    """What it offers, with its cable."""
    from_to: str
    power: str
    limited_by: str
    time: str
    cold: str
    range_gained: str
    from_mains: str
    costs: tuple[str, ...]
    letter: str


@dataclass(frozen=True)
class AbilityRow:
    """One number of the drive."""

    label: str
    value: str
    remark: str
    how: str
    """How it is computed; empty where it is that of the row above."""
    worked_out: Key | None


@dataclass(frozen=True)
class AbilityTopic:
    """Numbers that belong together."""

    title: str
    rows: tuple[AbilityRow, ...]


def why_not_all(spec: Spec) -> str:
    """Say what keeps limits, cost and the drive's ability from being told; empty for nothing."""
    names = [group.group_label for group in spec.open_groups]
    if not names:
        return ""
    return (
        "What limits charging, its cost and what the drive can do belong to one finished choice of "
        f"parts. {still_open(names)}"
    )


def charging_rows(lines: Sequence[ChargingLine]) -> tuple[ChargingRow, ...]:
    """Prepare the sources in their order."""
    return tuple(
        ChargingRow(
            worked_out=charging_key(line.source_id),
            source=line.label,
            supply=_supply(line),
            from_to=f"{line.from_percent:g} to {line.to_percent:g}{UNBROKEN_SPACE}%",
            power=_figure(line.power_kw, 1, "kW"),
            limited_by=limit_words(line) or DASH,
            time=time_from_to(line.low_hours, line.high_hours),
            cold=_cold(line),
            range_gained=_range_gained(line),
            from_mains=_figure(line.mains_kwh, 1, "kWh"),
            costs=tuple(
                f"{cost.tariff_label}, {cost.pence_per_kwh}{UNBROKEN_SPACE}p: £{cost.cost_gbp:,.2f}"
                for cost in line.costs
            ),
            letter=label_words(line) or DASH,
        )
        for line in lines
    )


def cold_head(lines: Sequence[ChargingLine]) -> str:
    """Name the column of the cold battery by its temperature."""
    cold_c = next((line.cold_c for line in lines if line.cold_c is not None), None)
    return (
        "Cold battery"
        if cold_c is None
        else f"Battery at {cold_c:g}{UNBROKEN_SPACE}°C".replace("-", MINUS)
    )


def gained_head(lines: Sequence[ChargingLine]) -> str:
    """Name the column of the range gained by its driving case."""
    case = next((line.km_case for line in lines if line.km_case), "")
    return f"Range an hour, {case[:1].lower()}{case[1:]}" if case else "Range an hour"


def ability_topics(lines: Sequence[PerformanceLine]) -> tuple[AbilityTopic, ...]:
    """Prepare what the drive can do, by topic."""
    return tuple(
        AbilityTopic(title, _without_repeats([_ability(line) for line in group]))
        for title, group in groupby(lines, key=lambda line: line.topic)
    )


def _without_repeats(rows: Sequence[AbilityRow]) -> tuple[AbilityRow, ...]:
    return tuple(
        replace(row, how="") if number and row.how == rows[number - 1].how else row
        for number, row in enumerate(rows)
    )


def _ability(line: PerformanceLine) -> AbilityRow:
    limit = f"{line.limited_by[:1].upper()}{line.limited_by[1:]}." if line.limited_by else ""
    return AbilityRow(
        label=line.label,
        value=_rounded(line),
        remark=f"{limit} {line.note}".strip(),
        how=source_told(f"{line.how[:1].upper()}{line.how[1:]}. Source: {line.source}."),
        worked_out=ability_key(line),
    )


def _rounded(line: PerformanceLine) -> str:
    if line.value is None:
        return DASH
    step = 10.0**line.decimals
    near = round(line.value * step, 6)
    turned = {"up": math.ceil(near), "down": math.floor(near), "nearest": near}[line.rounding]
    if line.spread is None:
        return _figure(turned / step, line.decimals, line.unit)
    doubt = f"{line.spread:,.{line.decimals}f}{UNBROKEN_SPACE}{line.unit}"
    return f"{turned / step:,.{line.decimals}f} ± {doubt}"


def _supply(line: ChargingLine) -> str:
    cable = f"cable for {line.cable_current_a:g} A" if line.cable_current_a else ""
    return "; ".join(words for words in (supply_words(line), cable) if words)


def _cold(line: ChargingLine) -> str:
    if line.power_kw is None:
        return DASH
    return "Warm it first" if line.cold_hours is None else time_taken(line.cold_hours)


def _range_gained(line: ChargingLine) -> str:
    if line.km_per_hour_low is None or line.km_per_hour_high is None:
        return DASH
    low, high = math.floor(line.km_per_hour_low), math.ceil(line.km_per_hour_high)
    return f"{low}–{high}{UNBROKEN_SPACE}km"


def _figure(value: float | None, decimals: int, unit: str) -> str:
    return DASH if value is None else f"{value:,.{decimals}f}{UNBROKEN_SPACE}{unit}"
