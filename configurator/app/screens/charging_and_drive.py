"""Charging from each source, and what the drive can do: each number with what limits it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import items, tag, text
from configurator.app.premises import premises
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
from configurator.build_spec.charging_words import CHARGING_CARE, HOW_COMPUTED
from configurator.build_spec.spec import Spec
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import outline_of_draft

LOOK = Path(__file__).parents[1] / "charging_and_drive.css"
TIMES = ("Source", "From and to", "Power", "Limited by", "Battery at 20 °C")
GAINS = ("From the mains", "Cost", "Letter to look for")
NOT_DRIVEN = (
    "Computed for a sound drive, a charged and warm battery and still, dry air; nothing here was "
    "driven, and nothing is approved by it. Grip, brakes and the law set narrower limits on the "
    "road."
)


def show() -> None:
    """Lay out the tables of the build in the address."""
    reference = session.build_reference()
    if reference is None:
        frame.no_build_named()
        return
    draft = read_draft(premises(), reference)
    with st.spinner("Computing times and forces …"):
        spec = outline_of_draft(premises(), draft)
    st.html(LOOK)
    _head(spec)
    frame.show_notices()
    missing = why_not_all(spec)
    if missing:
        st.html(tag("p", text(missing), class_="missing"))
    _charging(spec)
    topics = ability_topics(spec.performance)
    if topics:
        st.html(tag("h2", text("What the drive can do")) + tag("p", text(NOT_DRIVEN)))
        st.html(_ability_table(topics))


def _head(spec: Spec) -> None:
    build = spec.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        frame.heading(
            "Charging and driving",
            f"{spec.vehicle.label} for {build.customer.name} · {build.reference}",
        )
        if st.button("Back to the papers", key="to-papers"):
            session.go_to("papers", build.reference)


def _charging(spec: Spec) -> None:
    rows = charging_rows(spec.charging)
    st.html(tag("h2", text("Charging")) + _caution())
    if not rows:
        st.html(tag("p", text("No charging time is told: no charger is chosen yet.")))
        return
    st.html(
        _table("Times", (*TIMES, cold_head(spec.charging)), map(_times, rows), "charging times")
    )
    if spec.is_complete:
        gains = ("Source", gained_head(spec.charging), *GAINS)
        st.html(_table("Range, cost and plug", gains, map(_gains, rows), "charging gains"))
        st.html(tag("p", text(HOW_COMPUTED), class_="how"))


def _caution() -> str:
    care = CHARGING_CARE
    return tag(
        "section",
        tag("p", tag("strong", text(f"Warning. {care.hazard}"))),
        tag("p", text(care.consequence)),
        items((text(step) for step in care.avoid), "avoid"),
        class_="notice asked charging-caution",
        role="note",
    )


def _times(row: ChargingRow) -> str:
    return tag(
        "tr",
        tag("th", text(row.source), tag("span", text(row.supply), class_="how"), scope="row"),
        *(_number(value) for value in (row.from_to, row.power)),
        tag("td", text(row.limited_by)),
        *(_number(value) for value in (row.time, row.cold)),
    )


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
    return _table("", head, [body], "ability")


def _ability(row: AbilityRow) -> str:
    return tag(
        "tr",
        tag("th", text(row.label), scope="row"),
        _number(row.value),
        tag("td", text(row.remark), tag("span", text(row.how), class_="how") if row.how else ""),
    )


def _table(title: str, head: Iterable[str], rows: Iterable[str], look: str) -> str:
    heads = tag("thead", tag("tr", *(tag("th", text(name), scope="col") for name in head)))
    caption = tag("caption", text(title)) if title else ""
    return tag("table", caption, heads, tag("tbody", *rows), class_=f"plain {look}")


def _number(value: str) -> str:
    return tag("td", text(value), class_="number")
