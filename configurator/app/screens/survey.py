"""The survey of the donor: what came in, and the verdict on each of its parts."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from configurator.app import frame
from configurator.app.markup import tag, text
from configurator.app.premises import premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.safety import caution
from configurator.app.screens.survey_entries import (
    show_donors,
    show_lost,
    show_part,
    show_unlikely,
)
from configurator.app.screens.tables import table, verdict
from configurator.app.view_models.survey import SURVEY_CARE, PartRow, area_rows, brief_words
from configurator.workflow.survey import SurveyState, survey_of

LOOK = Path(__file__).parents[1] / "survey.css"
ABOUT = (
    "Each part is kept, repaired or replaced; the workshop's usual hours and parts count unless "
    "others are written. A provisional sum stands for what cannot be seen yet, and is settled "
    "against what is found. All of it goes into the price at once, and into the quotation by name."
)
HEADS = ("Part", "Verdict", "Hours", "With VAT", "Provisional", "Origin and note")


def show() -> None:
    """Lay out the survey of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Survey of the donor", draft.build, "papers")
    frame.show_notices()
    st.html(tag("p", text(ABOUT)))
    state = survey_of(premises(), draft)
    st.html(tag("p", text(brief_words(state)), class_="lead", role="status"))
    st.html(caution(SURVEY_CARE, "survey-caution"))
    show_unlikely(state)
    show_lost(draft, state)
    show_part(draft, state)
    _tables(state)
    show_donors(draft)


def _tables(state: SurveyState) -> None:
    for title, rows in area_rows(state):
        st.html(table(title, HEADS, map(_row, rows), "reckoned surveyed"))


def _row(row: PartRow) -> str:
    figures = (row.hours, row.amount, row.provisional)
    return tag(
        "tr",
        tag("th", text(row.label), scope="row"),
        tag("td", verdict(row.found, row.verdict)),
        *(tag("td", text(figure)) for figure in figures),
        tag("td", text(row.told)),
    )
