"""As built: what the finished vehicle needs on record, what is there, and whether it holds."""

from __future__ import annotations

import streamlit as st

from configurator.app import frame
from configurator.app.markup import tag, text
from configurator.app.people import acting
from configurator.app.premises import premises
from configurator.app.screens.as_built_entries import show_record_entry, show_serial_numbers
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.life_parts import LOOK, may_act, who_acts
from configurator.app.screens.safety import caution
from configurator.app.screens.tables import table, verdict
from configurator.app.view_models.as_built import (
    MEASURING_CARE,
    RecordLine,
    StageTable,
    correction_words,
    stage_tables,
    standing_words,
)
from configurator.workflow.as_built import RECORDING_ROLES, AsBuiltState, how_built_stands
from configurator.workflow.lives import life_of

ABOUT = (
    "What is needed follows from what is fitted and from the country. A value beyond its limit is "
    "kept as it is and blocks the handover until it is measured again. Range and loads are "
    "computed from the weighed axles and the measured battery. A value within its limits is no "
    "approval."
)
HEADS = ("Record", "Measured", "Limit", "Verdict")
NOTHING_ISSUED = "No spec is issued yet, so nothing tells what the vehicle needs."


def show() -> None:
    """Lay out the as-built record of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("As built", draft.build, "papers")
    frame.show_notices()
    st.html(tag("p", text(ABOUT)))
    by, reference = acting(), draft.build.reference
    life = life_of(premises(), reference)
    if life.issued is None:
        st.html(tag("p", text(NOTHING_ISSUED), class_="lead"))
        return
    state, corrects = how_built_stands(premises(), reference), correction_words(life)
    st.html(tag("p", text(standing_words(state.verdicts)), class_="lead", role="status"))
    if corrects:
        st.html(tag("p", text(corrects), class_="lead"))
    st.html(caution(MEASURING_CARE, "as-built-caution"))
    may = may_act(by, RECORDING_ROLES, "write down what was measured")
    if may:
        show_record_entry(reference, state, by, is_correction=bool(corrects))
    _tables(state)
    if may:
        show_serial_numbers(reference, state, by, is_correction=bool(corrects))
        who_acts(by)


def _tables(state: AsBuiltState) -> None:
    for found in stage_tables(state.verdicts, premises().catalog.stages):
        st.html(_table(found))


def _table(found: StageTable) -> str:
    return table(found.title, HEADS, map(_row, found.lines), "reckoned life as-built")


def _row(line: RecordLine) -> str:
    measured = [_listed(value.label, value.said) for value in line.values if value.said]
    limits = [_listed(value.label, value.limit) for value in line.values if value.limit]
    why = tag("span", text(line.words), class_="how") if line.words else ""
    return tag(
        "tr",
        tag("th", text(line.label), tag("span", text(line.because), class_="how"), scope="row"),
        tag("td", *measured, tag("span", text(line.made), class_="how")),
        tag("td", *limits, tag("span", text(f"Source: {line.source}"), class_="how")),
        tag("td", verdict(line.found, line.verdict), why),
    )


def _listed(label: str, words: str) -> str:
    return tag("div", text(f"{label}: "), tag("strong", text(words)))
