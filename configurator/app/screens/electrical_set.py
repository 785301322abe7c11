"""The electrical set, for the workshop: every check with its numbers and where they come from."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import items, tag, text
from configurator.app.premises import premises
from configurator.app.view_models.electrical_set import (
    ElectricalPage,
    ElectricalRow,
    ElectricalTopic,
    electrical_page,
    why_no_checks,
)
from configurator.build_spec.electrical_section import COMPETENT_PERSON, HIGH_VOLTAGE_WORK
from configurator.build_spec.spec import Spec
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import outline_of_draft

LOOK = Path(__file__).parents[1] / "electrical.css"
HEADS = ("Check", "Value", "Bound", "Room", "Verdict")


def show() -> None:
    """Lay out the checks of the build in the address."""
    reference = session.build_reference()
    if reference is None:
        frame.no_build_named()
        return
    draft = read_draft(premises(), reference)
    with st.spinner("Computing the checks …"):
        spec = outline_of_draft(premises(), draft)
    st.html(LOOK)
    _head(spec)
    frame.show_notices()
    st.html(_caution())
    missing = why_no_checks(spec)
    if missing:
        st.html(tag("p", text(missing), class_="missing"))
        return
    page = electrical_page(spec.electrical)
    st.html(_brief(page))
    for topic in page.topics:
        st.html(_table(topic))


def _head(spec: Spec) -> None:
    build = spec.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        frame.heading(
            "Electrical set", f"{spec.vehicle.label} for {build.customer.name} · {build.reference}"
        )
        if st.button("Back to the papers", key="to-papers"):
            session.go_to("papers", build.reference)


def _caution() -> str:
    message = HIGH_VOLTAGE_WORK
    return tag(
        "section",
        tag("p", tag("strong", text(f"Danger. {message.hazard}"))),
        tag("p", text(message.consequence)),
        items((text(step) for step in message.avoid), "avoid"),
        tag("p", text(COMPETENT_PERSON)),
        class_="notice refused electrical-caution",
        role="note",
    )


def _brief(page: ElectricalPage) -> str:
    brief = tag("p", text(page.in_brief), class_="electrical-brief")
    if not page.for_a_person:
        return brief
    title = tag("h2", text("For a competent person to settle"))
    lines = items((text(line) for line in page.for_a_person), "avoid")
    return brief + tag("section", title, lines, class_="notice asked")


def _table(topic: ElectricalTopic) -> str:
    head = tag("thead", tag("tr", *(tag("th", text(name), scope="col") for name in HEADS)))
    body = tag("tbody", *(_row(row) for row in topic.rows))
    caption = tag("caption", text(topic.title), class_="electrical-caption")
    return tag("table", caption, head, body, class_="electrical")


def _row(row: ElectricalRow) -> str:
    how = tag("span", text(row.how), class_="how") if row.how else ""
    return tag(
        "tr",
        tag("th", text(row.label), how, scope="row"),
        tag("td", text(row.value), class_="number"),
        tag("td", text(row.bound), class_="number"),
        tag("td", text(row.margin), class_="number"),
        tag("td", tag("span", text(row.verdict_words), class_=_mark(row))),
    )


def _mark(row: ElectricalRow) -> str:
    return f"verdict {row.verdict.replace(' ', '-')}"
