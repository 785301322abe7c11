"""The wishes: what the vehicle should reach, and the builds that come nearest to it."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import streamlit as st

from configurator.app import frame, wish_changes
from configurator.app.markup import tag, text
from configurator.app.premises import premises
from configurator.app.screens.build_page import (
    CHANGED_ELSEWHERE,
    draft_to_change,
    show_head,
)
from configurator.app.screens.price_range import show_front
from configurator.app.screens.wish_answers import show_answer
from configurator.app.screens.wish_targets import show_targets
from configurator.app.screens.wish_tastes import show_keeps, show_preferences
from configurator.app.view_models.wish_facts import wishable_facts
from configurator.app.view_models.wish_list import answerable
from configurator.workflow.builds import Draft

LOOK = Path(__file__).parents[1] / "wishes.css"
LOST = (
    "The catalog has lost what some of the wishes or preferences name; they are marked below. "
    "Nothing was put in their place. Until they are removed the others cannot be changed."
)
NO_ANSWER = "The wishes cannot be answered as they stand"
NO_FRONT = "Price and range cannot be compared as things stand"
IF_CHANGED = (
    f"{CHANGED_ELSEWHERE} If you had just clicked, look whether it still is as you want it."
)
ESTIMATES = (
    "Targets are held against computed estimates; for range that is the low edge, which nine "
    "drives in ten go beyond. What is found here is a suggestion to talk about, never an approval: "
    "weighing, testing and competent persons decide."
)


def show() -> None:
    """Lay out the wishes about the build in the address."""
    draft = draft_to_change(IF_CHANGED)
    if draft is None:
        return
    st.html(LOOK)
    show_head("Wishes", draft.build, "consultation")
    st.html(tag("p", text(ESTIMATES), class_="estimates", role="note"))
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


def _lost(draft: Draft) -> None:
    wishes, preferences = answerable(draft.build, premises().catalog)
    if (wishes, preferences) == (draft.build.wishes, draft.build.preferences):
        return
    frame.notice("asked", (LOST,))
    if st.button("Remove what is not offered any more", key="forget-lost-wishes"):
        wish_changes.wish_and_prefer_these(draft, wishes, preferences)
        st.rerun()
