"""Measured on the road: coast-downs and trips, held at once against what the catalog assumed."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from configurator.app import frame
from configurator.app.markup import tag, text
from configurator.app.measurement_changes import keep_measurements
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.form_marks import form_mark
from configurator.app.screens.measured_ranges import show_ranges
from configurator.app.screens.measurement_entries import show_entries
from configurator.app.screens.safety import caution
from configurator.app.screens.tables import table
from configurator.app.view_models.measurements import (
    COAST_DOWN_CARE,
    ComparedRow,
    TypedMeasurements,
    compared_note,
    compared_rows,
    measurements_written,
    needs_a_yes,
    with_note,
)
from configurator.catalog.models.measurements import CoastDown, Measurements
from configurator.workflow.builds import Draft
from configurator.workflow.measurement_faults import check_trips, read_measurements
from configurator.workflow.measurements import road_load_compared

LOOK = Path(__file__).parents[1] / "measurements.css"
HEADS = ("", "Measured", "Catalog", "Difference")
NOTHING_YET = "Paste runs, and what they say stands here at once."
NOT_READ = "This cannot be used as it stands"
NOT_AN_APPROVAL = (
    "Give or take two standard deviations, from how the readings scatter and what one day's wind "
    "may do; a slope and a wrong mass come on top. It narrows a range and approves nothing."
)
SURE = (
    "It is far from the catalog. Wind, slope, mass and units were looked at, and it is kept all "
    "the same."
)


def show() -> None:
    """Lay out the measurements of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Measured on the road", draft.build, "papers")
    frame.show_notices()
    st.html(caution(COAST_DOWN_CARE, "measured-caution"))
    with st.container(key="measured"):
        entered, beside = st.columns([1.1, 1], gap="large")
        below = st.container(key="measured-ranges")
        with entered:
            typed = show_entries(draft)
        with beside, st.container(key="measured-answer"):
            frame.calmly(NOT_READ, partial(_answer, draft, typed, below))
            _forgetting(draft)


def _answer(draft: Draft, typed: TypedMeasurements, below: DeltaGenerator) -> None:
    labels = {case.id: case.label for case in premises().catalog.driving_cases}
    written = with_note(measurements_written(typed, labels), draft.build.measurements)
    measured = read_measurements(written)
    check_trips(measured, list(labels), now().date())
    is_far = False
    if measured.coast_down is not None:
        is_far = _compared(draft, measured.coast_down)
    else:
        st.html(tag("p", text(NOTHING_YET), class_="lead"))
    with below:
        show_ranges(draft, measured)
    is_kept = measured == draft.build.measurements
    is_empty = is_kept and measured == Measurements()
    is_sure = is_kept or not is_far or _is_sure(measured)
    label = "This is kept" if is_kept and not is_empty else "Keep what was measured"
    if st.button(label, key="keep-measured", type="primary", disabled=is_kept or not is_sure):
        keep_measurements(draft, written)
        st.rerun()


def _is_sure(measured: Measurements) -> bool:
    """Ask for a yes to what is far from the catalog; other runs are asked for anew."""
    mark = form_mark(measured.coast_down)
    return st.checkbox(SURE, key=f"measured-sure-{mark}")


def _compared(draft: Draft, coast_down: CoastDown) -> bool:
    """Hold the runs against the catalog; tells whether they are far from it."""
    was = coast_down.vehicle_was
    compared = road_load_compared(premises(), draft, coast_down)
    rows = map(_row, compared_rows(compared, was))
    st.html(
        tag(
            "div",
            table("What the runs say", HEADS, rows, "compared"),
            tag("p", text(compared_note(compared, was))),
            tag("p", text(NOT_AN_APPROVAL), class_="small"),
            role="status",
        )
    )
    return needs_a_yes(compared, was)


def _row(row: ComparedRow) -> str:
    cells = (row.measured, row.assumed, row.verdict)
    return tag(
        "tr", tag("th", text(row.label), scope="row"), *(tag("td", text(cell)) for cell in cells)
    )


def _forgetting(draft: Draft) -> None:
    nothing = draft.build.measurements == Measurements()
    if st.button("Forget what was measured", key="forget-measured", disabled=nothing):
        keep_measurements(draft, None)
        st.rerun()
