"""Any figure worked out: inputs with their doubt, the formula in words, the steps, the result."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import items, tag, text
from configurator.app.premises import premises
from configurator.app.screens.build_page import draft_in_address
from configurator.app.screens.tables import table
from configurator.app.view_models.working import (
    HOW_ENDS,
    InputRow,
    StepRow,
    WorkingPage,
    figure_label,
    wanted_figure,
    working_page,
)
from configurator.build_spec.derivation import ROUNDED_WORDS
from configurator.build_spec.derivations.explain import Key
from configurator.workflow.builds import Draft
from configurator.workflow.working import figures_to_work_out, work_out

LOOK = Path(__file__).parents[1] / "working.css"
NOT_AN_APPROVAL = (
    "Worked out, and no approval: whoever works on brakes, axles, batteries or high voltage "
    "measures on the finished vehicle and decides."
)


def show() -> None:
    """Lay out the working of the figure in the address."""
    draft = draft_in_address()
    if draft is None:
        return
    st.html(LOOK)
    with st.spinner("Working it out …"):
        keys = figures_to_work_out(premises(), draft)
        name, case = session.fact_and_case()
        headline = premises().catalog.workshop.headline_cases[0]
        key = wanted_figure(keys, name, case, headline)
        derivation = work_out(premises(), draft, *key)
    _head(draft)
    frame.show_notices()
    _choose(keys, key)
    if derivation is not None:
        _show_page(working_page(derivation))


def _head(draft: Draft) -> None:
    build = draft.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        vehicle = premises().catalog.vehicle_by_id[build.vehicle].label
        frame.heading("Working", f"{vehicle} for {build.customer.name} · {build.reference}")
        if st.button("Back to the talk", key="to-talk"):
            session.go_to("consultation", build.reference)
        if st.button("To the papers", key="to-papers"):
            session.go_to("papers", build.reference)


def _choose(keys: Sequence[Key], shown: Key) -> None:
    """Offer every figure; another one goes into the address."""
    catalog = premises().catalog
    # The key changes with the address, so that Back shows the figure it goes back to.
    wanted = st.selectbox(
        "Figure",
        range(len(keys)),
        index=list(keys).index(shown),
        format_func=lambda place: figure_label(keys[place], catalog),
        key=f"figure-{shown[0]}-{shown[1]}",
    )
    if keys[wanted] != shown:
        session.go_to_fact(*keys[wanted])
        st.rerun()


def _show_page(page: WorkingPage) -> None:
    beneath = tag("p", text(page.beneath), class_="lead") if page.beneath else ""
    result = tag("p", text(page.result.value), class_="working-result")
    note = tag("p", text(page.default_note), class_="notice asked") if page.default_note else ""
    st.html(
        tag(
            "section",
            tag("h2", text(page.title)),
            beneath,
            result,
            note,
            tag("h3", text("In words")),
            tag("p", text(page.formula)),
            tag("p", text(page.source), class_="small"),
            class_="working",
        )
    )
    rounded = tag("p", text(ROUNDED_WORDS), class_="small")
    st.html(_steps("Step by step", page.steps, page.result) + rounded)
    if page.beside:
        st.html(_steps("Beside it", page.beside, None))
    if page.inputs:
        st.html(_inputs(page.inputs))
    st.html(_ends(page) + _narrowed(page) + tag("p", text(NOT_AN_APPROVAL), class_="small"))


def _steps(title: str, rows: Sequence[StepRow], result: StepRow | None) -> str:
    lines = [
        tag("tr", tag("th", text(row.words), scope="row"), tag("td", text(row.value)))
        for row in rows
    ]
    if result is not None:
        total = (
            tag("th", text(result.words), scope="row"),
            tag("td", text(result.value)),
        )
        lines.append(tag("tr", *total, class_="total"))
    return tag("table", tag("caption", text(title)), tag("tbody", *lines), class_="steps")


def _inputs(rows: Sequence[InputRow]) -> str:
    heads = ("Input", "Value", "± one standard deviation", "How known", "From where")
    inputs = table("What it rests on", heads, map(_input, rows), "inputs")
    return tag("div", inputs, class_="wide", tabindex="0", role="region", aria_label="Inputs")


def _input(row: InputRow) -> str:
    return tag(
        "tr",
        tag("th", text(row.label), scope="row"),
        tag("td", text(row.value), class_="number"),
        tag("td", text(row.doubt), class_="number"),
        tag("td", tag("span", text(row.basis_words), class_=f"basis {row.basis}")),
        tag("td", text(row.source), class_="source"),
    )


def _ends(page: WorkingPage) -> str:
    if not page.ends:
        return ""
    ends = "".join(
        tag("h4", text(end.words)) + items((text(choice) for choice in end.choices), "choices")
        for end in page.ends
    )
    title = tag("h3", text("How the ends of the from–to were found"))
    return tag("section", title, tag("p", text(HOW_ENDS)), ends, class_="working")


def _narrowed(page: WorkingPage) -> str:
    if not page.narrowed_by:
        return ""
    lines = items((text(line) for line in page.narrowed_by), "choices")
    return tag("section", tag("h3", text("What would make it surer")), lines, class_="working")
