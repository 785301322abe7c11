"""Charging from each source, and what the drive can do: each number with what limits it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import streamlit as st

from configurator.app.markup import items, tag, text
from configurator.app.screens.build_page import show_computed
from configurator.app.screens.how_link import how_link
from configurator.app.screens.safety import caution
from configurator.app.screens.tables import table
from configurator.app.view_models.charging_and_drive import (
    AbilityRow,
    AbilityTopic,
    ChargingRow,
    ability_topics,
    charging_rows,
    cold_head,
    gained_head,
    why_not_all,
)
from configurator.app.view_models.words import source_told
from configurator.build_spec.charging_words import CHARGING_CARE, COLD_CELLS, HOW_COMPUTED
from configurator.build_spec.performance_doubt import ACCOUNT
from configurator.build_spec.spec import Spec

LOOK = Path(__file__).parents[1] / "charging_and_drive.css"
TIMES = ("Source", "From and to", "Power", "Limited by", "Battery at 20 °C")
TIMES_ALONE = ("Source", "From and to", "Battery at 20 °C")
GAINS = ("From the mains", "Cost", "Letter to look for")
NOT_DRIVEN = (
    "Computed for a sound drive, a charged and warm battery and still, dry air; nothing here was "
    "driven, and nothing is approved by it. Grip, brakes and the law set narrower limits on the "
    f"road. {ACCOUNT}."
)


def show() -> None:
    """Lay out the tables of the build in the address."""
    show_computed(
        "Charging and driving",
        look=LOOK,
        meanwhile="Computing times and forces …",
        lay_out=_show_tables,
    )


def _show_tables(spec: Spec) -> None:
    missing = why_not_all(spec)
    if missing:
        st.html(tag("p", text(missing), class_="missing"))
    _charging(spec)
    topics = ability_topics(spec.performance)
    if topics:
        st.html(tag("h2", text("What the drive can do")) + tag("p", text(source_told(NOT_DRIVEN))))
        st.html(_ability_table(topics))


def _charging(spec: Spec) -> None:
    rows = charging_rows(spec.charging)
    st.html(tag("h2", text("Charging")) + caution(CHARGING_CARE, "charging-caution"))
    st.html(caution(COLD_CELLS, "cold-caution"))
    if not rows:
        st.html(tag("p", text("No charging time is told: no charger is chosen yet.")))
        return
    if not spec.is_complete:
        times = map(_times_alone, rows)
        st.html(table("Times", TIMES_ALONE, times, "reckoned plain charging times"))
    else:
        times = map(_times, rows)
        head = (*TIMES, cold_head(spec.charging))
        st.html(table("Times", head, times, "reckoned plain charging times"))
        gains = ("Source", gained_head(spec.charging), *GAINS)
        costs = map(_gains, rows)
        st.html(table("Range, cost and plug", gains, costs, "reckoned plain charging gains"))
        st.html(tag("p", text(HOW_COMPUTED), class_="how"))


def _times_alone(row: ChargingRow) -> str:
    """Leave out what belongs to a finished choice of parts."""
    return tag("tr", _source(row), _number(row.from_to), _time(row))


def _source(row: ChargingRow) -> str:
    return tag("th", text(row.source), tag("span", text(row.supply), class_="how"), scope="row")


def _times(row: ChargingRow) -> str:
    return tag(
        "tr",
        _source(row),
        *(_number(value) for value in (row.from_to, row.power)),
        tag("td", text(row.limited_by)),
        _time(row),
        _number(row.cold),
    )


def _time(row: ChargingRow) -> str:
    how = how_link(f"Charging time, {row.source}", row.worked_out)
    return tag("td", text(row.time), how, class_="number")


def _gains(row: ChargingRow) -> str:
    costs = items((text(cost) for cost in row.costs), "costs") if row.costs else text("—")
    return tag(
        "tr",
        tag("th", text(row.source), scope="row"),
        *(_number(value) for value in (row.range_gained, row.from_mains)),
        tag("td", costs),
        tag("td", text(row.letter)),
    )


def _ability_table(topics: Iterable[AbilityTopic]) -> str:
    body = "".join(
        tag("tr", tag("th", text(topic.title), colspan="3", scope="rowgroup", class_="topic"))
        + "".join(_ability(row) for row in topic.rows)
        for topic in topics
    )
    head = ("", "Computed", "Limited by, and what to know")
    return table("", head, [body], "reckoned plain ability")


def _ability(row: AbilityRow) -> str:
    return tag(
        "tr",
        tag("th", text(row.label), scope="row"),
        tag("td", text(row.value), how_link(row.label, row.worked_out), class_="number"),
        tag("td", text(row.remark), tag("span", text(row.how), class_="how") if row.how else ""),
    )


def _number(value: str) -> str:
    return tag("td", text(value), class_="number")
