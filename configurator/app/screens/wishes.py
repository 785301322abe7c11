"""The wishes: what the vehicle should reach, and the builds that come nearest to it."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import streamlit as st

from configurator.app import frame, session, wish_changes
from configurator.app.markup import tag, text
from configurator.app.premises import premises
from configurator.app.screens.price_range import show_front
from configurator.app.screens.wish_answers import show_answer
from configurator.app.screens.wish_targets import show_targets
from configurator.app.screens.wish_tastes import show_keeps, show_preferences
from configurator.app.view_models.wish_facts import wishable_facts
from configurator.app.view_models.wish_list import answerable
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.offered import check_vehicle

LOOK = Path(__file__).parents[1] / "wishes.css"
LOST = (
    "The catalog has lost what some of the wishes or preferences name; they are marked below. "
    "Nothing was put in their place. Until they are removed the others cannot be changed."
)
NO_ANSWER = "The wishes cannot be answered as they stand"
NO_FRONT = "Price and range cannot be compared as things stand"
ELSEWHERE = (
    "The talk was changed on another screen. Nothing was lost: what is shown here now is what is "
    "saved. If you had just clicked, look whether it still is as you want it."
)
ESTIMATES = (
    "Targets are held against computed estimates; for range that is the low edge, which nine "
    "drives in ten go beyond. What is found here is a suggestion to talk about, never an approval: "
    "weighing, testing and competent persons decide."
)


def show() -> None:
    """Lay out the wishes about the build in the address."""
    reference = session.build_reference()
    if reference is None:
        frame.no_build_named()
        return
    draft = read_draft(premises(), reference)
    check_vehicle(premises().catalog, draft.build.vehicle)
    if session.changed_elsewhere(reference, draft.revision):
        session.say("asked", (ELSEWHERE,))
    st.html(LOOK)
    _head(draft)
    frame.show_notices()
    _lost(draft)
    facts = wishable_facts(premises().catalog)
    with st.container(key="wish-ask"):
        targets, tastes = st.columns([1.25, 1], gap="large")
        with targets:
            say_what_is_possible = show_targets(draft, facts)
        with tastes:
            show_preferences(draft)
    with st.container(key="wish-stay"):
        show_keeps(draft)
    frame.calmly(NO_ANSWER, partial(show_answer, draft, facts))
    frame.calmly(NO_FRONT, partial(show_front, draft))
    say_what_is_possible()


def _head(draft: Draft) -> None:
    build = draft.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        vehicle = premises().catalog.vehicle_by_id[build.vehicle]
        frame.heading("Wishes", f"{vehicle.label} for {build.customer.name} · {build.reference}")
        if st.button("Back to the talk", key="to-talk"):
            session.go_to("consultation", build.reference)
    st.html(tag("p", text(ESTIMATES), class_="estimates", role="note"))


def _lost(draft: Draft) -> None:
    wishes, preferences = answerable(draft.build, premises().catalog)
    if (wishes, preferences) == (draft.build.wishes, draft.build.preferences):
        return
    frame.notice("asked", (LOST,))
    if st.button("Remove what is not offered any more", key="forget-lost-wishes"):
        wish_changes.wish_and_prefer_these(draft, wishes, preferences)
        st.rerun()
