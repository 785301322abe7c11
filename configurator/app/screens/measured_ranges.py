"""Each range before and after what was measured, in words and bars."""

from __future__ import annotations

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.premises import premises
from configurator.app.view_models.measured_ranges import (
    Bar,
    MovedRow,
    Told,
    moved_answer,
)
from configurator.catalog.models.measurements import Measurements
from configurator.workflow.builds import Draft
from configurator.workflow.measured_ranges import ranges_moved

CAPTION = "What it changes in the range"
BEFORE, AFTER, CHANGE = "Before", "After", "Change"
HEADS = ("", BEFORE, AFTER, CHANGE)
READING = (
    "Each band holds eight in ten vehicles such as this. The striped bar is before, the full one "
    "after, all on one scale. Trips tell most of driving like theirs, at such speeds and in such "
    "air, and less of any other. Estimates, never a promise."
)


def show_ranges(draft: Draft, measured: Measurements) -> None:
    """Lay out the ranges of a draft before and after, or say why they cannot be told yet."""
    answer = moved_answer(ranges_moved(premises(), draft, measured), measured)
    if answer.instead:
        st.html(tag("div", tag("h2", text(CAPTION)), tag("p", text(answer.instead)), role="status"))
        return
    head = tag("thead", tag("tr", *(tag("th", text(name), scope="col") for name in HEADS)))
    bodies = (_body(row) for row in answer.rows)
    caption = tag("caption", text(CAPTION))
    st.html(
        tag("table", caption, head, *bodies, class_="compared moved")
        + tag("p", text(READING), class_="small")
    )


def _body(row: MovedRow) -> str:
    about = tag("small", text(row.about)) if row.about else ""
    words = tag(
        "tr",
        tag("th", text(row.label), about, scope="row"),
        _cell(row.before, BEFORE),
        _cell(row.after, AFTER),
        tag("td", text(row.verdict), data_head=CHANGE),
    )
    bars = _bar(row.before.bar, "before") + _bar(row.after.bar, "after")
    drawn = tag("tr", tag("td", bars, colspan=len(HEADS)), class_="bands", aria_hidden="true")
    return tag("tbody", words, drawn)


def _cell(told: Told, head: str) -> str:
    about = tag("small", text(told.about))
    return tag("td", tag("b", text(told.band)), about, data_head=head)


def _bar(bar: Bar, when: str) -> str:
    band = tag("i", class_="band", style=f"left:{bar.left:.2f}%;width:{bar.width:.2f}%")
    middle = tag("i", class_="middle", style=f"left:{bar.middle:.2f}%")
    return tag("div", band, middle, class_=f"moved-bar {when}")
