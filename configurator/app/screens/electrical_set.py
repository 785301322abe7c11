"""The electrical set, for the workshop: every check with its numbers and where they come from."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from configurator.app.markup import items, tag, text
from configurator.app.screens.build_page import show_computed
from configurator.app.screens.how_link import how_link
from configurator.app.screens.safety import caution
from configurator.app.screens.tables import table, verdict
from configurator.app.view_models.electrical_set import (
    ElectricalPage,
    ElectricalRow,
    electrical_page,
    why_no_checks,
)
from configurator.build_spec.electrical_section import COMPETENT_PERSON, HIGH_VOLTAGE_WORK
from configurator.build_spec.spec import Spec

LOOK = Path(__file__).parents[1] / "electrical.css"
HEADS = ("Check", "Value", "Bound", "Room", "Verdict")


def show() -> None:
    """Lay out the checks of the build in the address."""
    show_computed(
        "Electrical set", look=LOOK, meanwhile="Computing the checks …", lay_out=_show_checks
    )


def _show_checks(spec: Spec) -> None:
    competent = tag("p", text(COMPETENT_PERSON))
    st.html(caution(HIGH_VOLTAGE_WORK, "electrical-caution", competent))
    missing = why_no_checks(spec)
    if missing:
        st.html(tag("p", text(missing), class_="missing"))
        return
    page = electrical_page(spec.electrical)
    st.html(_brief(page))
    for topic in page.topics:
        st.html(table(topic.title, HEADS, map(_row, topic.rows), "reckoned electrical"))


def _brief(page: ElectricalPage) -> str:
    brief = tag("p", text(page.in_brief), class_="electrical-brief")
    if not page.for_a_person:
        return brief
    title = tag("h2", text("For a competent person to settle"))
    lines = items((text(line) for line in page.for_a_person), "avoid")
    return brief + tag("section", title, lines, class_="notice asked")


def _row(row: ElectricalRow) -> str:
    recorded = tag("span", text(row.recorded), class_="how") if row.recorded else ""
    how = recorded + (tag("span", text(row.how), class_="how") if row.how else "")
    return tag(
        "tr",
        tag("th", text(row.label), how, scope="row"),
        tag("td", text(row.value), how_link(row.label, row.worked_out), class_="number"),
        tag("td", text(row.bound), class_="number"),
        tag("td", text(row.margin), class_="number"),
        tag("td", verdict(row.verdict, row.verdict_words)),
    )
