"""The customer's own day: what is driven, at once answered, kept with the draft on request."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import streamlit as st

from configurator.app import day_changes, frame
from configurator.app.markup import items, tag, text
from configurator.app.premises import premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.day_entries import show_entries
from configurator.app.screens.how_link import how_link
from configurator.app.screens.safety import caution
from configurator.app.view_models.your_day import (
    USUAL_DAY,
    DayAnswer,
    answer,
    day_written,
    entries_of,
)
from configurator.build_spec.charging_words import COLD_CELLS
from configurator.build_spec.day_cold import charges_cold
from configurator.build_spec.day_faults import read_day
from configurator.drawings.battery_left import battery_left
from configurator.drawings.svg import to_svg
from configurator.workflow.builds import Draft
from configurator.workflow.customers_days import day_answered

LOOK = Path(__file__).parents[1] / "your_day.css"
ESTIMATES = (
    "Estimates, never a promise. Whoever runs out of charge on a fast road or far from help is in "
    "danger: keep a reserve, know where you can charge, and trust the gauge before this page."
)
USABLE = "Usable energy of the battery"
NO_ANSWER = "This day cannot be answered as it stands"
NOT_DRIVABLE = (
    "The day cannot be computed as things stand: choices contradict each other, or a part is "
    "missing to drive.",
    "Go back to the talk; it shows what fits.",
)


def show() -> None:
    """Lay out the day about the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Your day", draft.build, "consultation")
    st.html(tag("p", text(ESTIMATES), class_="estimates", role="note"))
    frame.show_notices()
    with st.container(key="day"):
        asked, beside = st.columns([1.1, 1], gap="large")
        with asked:
            written = day_written(show_entries(entries_of(draft.build.day or USUAL_DAY), draft))
        with beside, st.container(key="day-answer"):
            frame.calmly(NO_ANSWER, partial(_answer, draft, written))


def _answer(draft: Draft, written: dict[str, object]) -> None:
    day = read_day(written)
    result = day_answered(premises(), draft, day)
    if result is None:
        frame.notice("asked", NOT_DRIVABLE)
        return
    told = answer(day, result, premises().catalog.workshop.aged)
    # What forbids a day comes before what the battery says of it.
    for warning in told.warnings:
        frame.notice("asked", warning)
    _say(told)
    drawing = battery_left(told.bars, day.reserve_percent)
    st.image(to_svg(drawing), alt=f"{drawing.title}. {drawing.description}", width="stretch")
    _keeping(draft, written, is_kept=day == draft.build.day)
    for remark in told.remarks:
        frame.notice("asked", remark)
    _more(told)
    if charges_cold(day):
        st.html(caution(COLD_CELLS, "cold-caution"))


def _say(told: DayAnswer) -> None:
    st.html(
        tag(
            "div",
            tag("h2", text(told.headline)),
            *(tag("p", text(sentence)) for sentence in told.about),
            class_="day-said",
            role="status",
            data_fits="yes" if told.fits else "no",
        )
    )


def _keeping(draft: Draft, written: dict[str, object], *, is_kept: bool) -> None:
    with st.container(key="day-keep", horizontal=True, vertical_alignment="center"):
        label = "This day is kept" if is_kept else "Keep this day"
        if st.button(label, key="keep-day", type="primary", disabled=is_kept):
            day_changes.keep_day(draft, written)
            st.rerun()
        if st.button("Forget the day", key="forget-day", disabled=draft.build.day is None):
            day_changes.keep_day(draft, None)
            st.rerun()


def _more(told: DayAnswer) -> None:
    heading = "What would leave more" if told.fits else "What helps"
    if told.helps:
        st.html(tag("h3", text(heading)) + items([text(line) for line in told.helps], "day-helps"))
    rows = "".join(
        tag(
            "tr",
            tag("th", text(leg.label), scope="row"),
            *(tag("td", text(cell)) for cell in (leg.distance, leg.energy, leg.share)),
        )
        for leg in told.legs
    )
    st.html(
        tag("h3", text("Where the energy goes"))
        + tag("table", tag("tbody", rows), class_="legs")
        + tag("p", text(USABLE), how_link(USABLE, ("usable_energy_kwh", None)), class_="small")
    )
    st.html(tag("p", text(" ".join(told.notes)), class_="small"))
