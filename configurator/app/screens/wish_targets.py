"""The targets: facts that the customer would like to reach a number."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from configurator.app import frame, session, wish_changes
from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.view_models.wish_facts import WishableFact, still_possible
from configurator.app.view_models.wish_list import (
    LONGEST_AMOUNT,
    WishLine,
    amount_in,
    amount_problem,
    unknown_subject,
    wish_for,
    wish_lines,
    with_wish,
    without_wish,
)
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import outline_of_draft

FORM = "new-wish"


def show_targets(draft: Draft, facts: Sequence[WishableFact]) -> Callable[[], None]:
    """Lay out the targets set so far, each to be changed or removed, and a new one.

    Returns
    -------
    callable
        Says beside the new one what is possible; for later, since it takes a moment.
    """
    st.html(
        tag("h2", text("What it should reach"))
        + tag("p", text("How far, how dear, how soon: as many targets as you like."), class_="lead")
    )
    lines = wish_lines(draft.build, premises().catalog, facts)
    for line in lines:
        _line(draft, line)
    wished = {line.fact.key for line in lines}
    # A subject that has become a wish is none to choose any more, so the box begins anew.
    return _new(draft, [fact for fact in facts if fact.key not in wished], "-".join(sorted(wished)))


def _line(draft: Draft, line: WishLine) -> None:
    key = line.fact.key
    with (
        st.form(f"wish-{key}", border=False),
        st.container(key=f"wish-line-{key}", horizontal=True, vertical_alignment="bottom"),
    ):
        typed = st.text_input(
            _label(f"{line.fact.label}, {line.fact.side}", line.fact.unit),
            value=line.written,
            max_chars=LONGEST_AMOUNT,
            # A new number in the record shows; a refused one stays as it was typed.
            key=f"wish-amount-{key}-{line.written}",
        )
        about = plain_label(line.fact.label)
        changed = st.form_submit_button(f"Change {about}", key=f"short-change-{key}")
        removed = st.form_submit_button(f"Remove {about}", key=f"short-remove-{key}")
    if line.trouble:
        frame.notice("asked", (line.trouble,))
    if removed:
        wish_changes.wish_for_these(draft, without_wish(draft.build.wishes, line.wish))
        st.rerun()
    if changed:
        _keep(draft, line.fact, typed or "")


def _new(draft: Draft, facts: Sequence[WishableFact], wished: str) -> Callable[[], None]:
    if not facts:
        return lambda: None
    with st.container(key="wish-new"):
        by_label = {fact.label: fact for fact in facts}
        # What is typed comes back even if it is nothing known; else the earlier one would stay.
        chosen = st.selectbox(
            "What is it about?", list(by_label), accept_new_options=True, key=f"wish-fact-{wished}"
        )
        fact = by_label.get(chosen or "")
        if fact is None:
            frame.notice("refused", (unknown_subject(chosen or ""),))
            return lambda: None
        room = st.empty()
        room.html(tag("p", text(fact.about), class_="small"))
        number = session.form_number(FORM)
        with (
            st.form(FORM, border=False),
            st.container(key="wish-new-line", horizontal=True, vertical_alignment="bottom"),
        ):
            typed = st.text_input(
                _label(fact.side.capitalize(), fact.unit),
                max_chars=LONGEST_AMOUNT,
                key=f"wish-amount-new-{number}",
            )
            sent = st.form_submit_button("Add this wish", type="primary", key="add-wish")
    if sent:
        _keep(draft, fact, typed or "", form=FORM)
    return partial(_say_what_is_possible, draft, fact, room)


def _say_what_is_possible(draft: Draft, fact: WishableFact, room: DeltaGenerator) -> None:
    # Wishes move no figure; without them the answer is the same one before and after.
    build = draft.build.model_copy(update={"wishes": (), "preferences": ()})
    spec = outline_of_draft(premises(), replace(draft, build=build))
    room.html(tag("p", text(f"{fact.about} {still_possible(spec, fact)}"), class_="small"))


def _keep(draft: Draft, fact: WishableFact, typed: str, form: str = "") -> None:
    amount = amount_in(typed, fact.unit)
    if amount is None:
        frame.notice("refused", (amount_problem(typed, fact),))
        return
    new = wish_for(fact, amount)
    if wish_changes.wish_for_these(draft, with_wish(draft.build.wishes, new)) and form:
        session.empty_form(form)
    st.rerun()


def _label(words: str, unit: str) -> str:
    written = {"GBP": "£"}.get(unit, unit)
    return plain_label(f"{words} ({written})" if written else words)
