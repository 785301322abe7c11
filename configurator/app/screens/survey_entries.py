"""The entries of the survey: one part after the other, and what is known of the donor."""

from __future__ import annotations

import streamlit as st

from configurator.app import frame
from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import now
from configurator.app.screens.form_marks import form_mark
from configurator.app.survey_changes import keep_donors, keep_verdict, take_out_lost
from configurator.app.view_models.survey import (
    ORIGIN_NEEDED,
    VERDICT_WORDS,
    TypedLine,
    line_written,
    part_words,
    typed_line,
    verdict_words,
)
from configurator.app.view_models.words import DAY_TYPED
from configurator.build_spec.sentences import listed
from configurator.catalog.models.build import Donor, Verdict
from configurator.workflow.builds import Draft
from configurator.workflow.survey import PartState, SurveyState

LONGEST_LINE, LONGEST_NOTE = 200, 2000
DONOR = (
    "As it came in. Both axles weighed take the place of the catalog's figures, and every weight "
    "becomes surer."
)
SECOND = "A second vehicle gives parts; the first one keeps the identity and the axle loads."
SECOND_PRICE = (
    "The usual price is that of a new part: write under Parts what this one costs, 0 where it "
    "costs nothing."
)
LOST = (
    "The workshop's list has no more what was looked at here, and nothing can be computed until "
    "the verdict is taken out and written down for another part:"
)
AXLES = (
    ("front_axle_kg", "Front axle (kg)"),
    ("rear_axle_kg", "Rear axle (kg)"),
    ("left_side_kg", "Left wheels (kg)"),
    ("right_side_kg", "Right wheels (kg)"),
)


def show_lost(draft: Draft, state: SurveyState) -> None:
    """Say which parts the workshop's list has no more, with the way to take them out."""
    if not state.lost:
        return
    names = listed([f"“{line.part}” ({line.verdict})" for line in state.lost])
    frame.notice("asked", (f"{LOST} {names}.",))
    if st.button("Take these verdicts out", key="take-out-lost"):
        take_out_lost(draft, state)
        st.rerun()


def show_unlikely(state: SurveyState) -> None:
    """Ask to weigh again where an axle is far from what is usual."""
    if state.unlikely:
        frame.notice("asked", [f"{found.sentence} {found.remedy}" for found in state.unlikely])


def show_part(draft: Draft, state: SurveyState) -> None:
    """Lay out the entry of a part, the first not looked at unless another is taken."""
    st.html(tag("h2", text("Write down a verdict")))
    parts = state.parts
    waiting = [number for number, part in enumerate(parts) if part.line is None]
    number = st.selectbox(
        "Part",
        range(len(parts)),
        index=waiting[0] if waiting else 0,
        format_func=lambda each: part_words(parts[each]),
        key=f"survey-part-{form_mark(draft.build.survey)}",
    )
    _part_form(draft, parts[number])


def _part_form(draft: Draft, state: PartState) -> None:
    kept, part = typed_line(state.line), state.part
    mark = f"{part.id}-{form_mark(state.line)}"
    if part.origin_must_be_known:
        st.html(tag("p", text(ORIGIN_NEEDED), class_="small"))
    with st.form(f"survey-form-{mark}", border=False):
        wanted = _verdict(state, kept.verdict, mark)
        left, right = st.columns(2, gap="medium")
        with left:
            hours = _line("Hours, if not the usual", kept.hours, f"hours-{mark}")
            parts = _line("Parts in £ without VAT, if not the usual", kept.parts, f"parts-{mark}")
            label = "Provisional sum in £ without VAT"
            provisional = _line(label, kept.provisional, f"provisional-{mark}")
        with right:
            origin = _line("Where it comes from, maker and marks", kept.origin, f"origin-{mark}")
            is_second = _is_second(draft, mark, was=kept.from_second_donor)
            note = st.text_area(
                "Note", value=kept.note, max_chars=LONGEST_NOTE, height=100, key=f"note-{mark}"
            )
        with st.container(horizontal=True):
            sent = st.form_submit_button("Keep this verdict", type="primary")
            taken_away = state.line is not None and st.form_submit_button("Not looked at")
    if sent or taken_away:
        typed = TypedLine(
            wanted, hours, parts, provisional, origin, from_second_donor=is_second, note=note or ""
        )
        keep_verdict(draft, part, None if taken_away else line_written(typed))
        st.rerun()


def _verdict(state: PartState, kept: Verdict | None, mark: str) -> Verdict | None:
    verdicts = list(VERDICT_WORDS)
    return st.radio(
        plain_label(state.part.label),
        verdicts,
        index=None if kept is None else verdicts.index(kept),
        format_func=lambda each: plain_label(verdict_words(state, each)),
        key=f"verdict-{mark}",
    )


def _is_second(draft: Draft, mark: str, *, was: bool) -> bool:
    if draft.build.second_donor is None:
        return False
    is_second = st.checkbox("Taken from the second donor", value=was, key=f"second-{mark}")
    st.html(tag("p", text(SECOND_PRICE), class_="small"))
    return is_second


def show_donors(draft: Draft) -> None:
    """Lay out what is known of the donor, and of a second one."""
    donor, second = draft.build.donor, draft.build.second_donor
    mark = form_mark((donor, second))
    st.html(tag("h2", text("The donor")) + tag("p", text(DONOR), class_="small"))
    with st.form(f"donor-form-{mark}", border=False):
        description = st.text_area(
            "As it came in",
            value=donor.description,
            max_chars=LONGEST_NOTE,
            height=100,
            key=f"donor-{mark}",
        )
        identity = _line("Identity mark", donor.identity_mark, f"mark-{mark}")
        weighed = _weighed(donor, mark)
        with_second = st.checkbox(SECOND, value=second is not None, key=f"two-{mark}")
        told = second.description if second else ""
        other = _line("Second donor, as it came in", told, f"other-{mark}", longest=LONGEST_NOTE)
        other_mark = second.identity_mark if second else ""
        other_identity = _line("Identity mark of the second", other_mark, f"other-mark-{mark}")
        sent = st.form_submit_button("Keep what is known")
    if sent:
        first = {"description": (description or "").strip(), "identity_mark": identity, **weighed}
        with_it = {"description": other, "identity_mark": other_identity}
        keep_donors(draft, first, with_it, with_second=with_second)
        st.rerun()


def _weighed(donor: Donor, mark: str) -> dict[str, object]:
    columns = st.columns(len(AXLES) + 1)
    typed: dict[str, object] = {}
    for column, (name, label) in zip(columns, AXLES, strict=False):
        with column:
            value: float | None = getattr(donor, name)
            typed[name] = _line(label, "" if value is None else f"{value:g}", f"{name}-{mark}")
    with columns[-1]:
        on = st.date_input(
            "Weighed on",
            value=donor.weighed_on,
            # The clock may have been set back since.
            max_value=max(now().date(), donor.weighed_on or now().date()),
            format=DAY_TYPED,
            key=f"weighed-{mark}",
        )
    given = {name: words for name, words in typed.items() if words}
    return {**given, **({"weighed_on": on} if on else {})}


def _line(label: str, value: str, key: str, longest: int = LONGEST_LINE) -> str:
    typed = st.text_input(label, value=value, max_chars=longest, key=f"survey-{key}")
    return (typed or "").strip()
