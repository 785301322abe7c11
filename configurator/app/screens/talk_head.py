"""The head of the talk: whose it is, undo, the workshop's choices, the way to the papers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

import streamlit as st

from configurator.app import changes, frame, session
from configurator.app.premises import premises
from configurator.app.view_models.faults import spoken
from configurator.app.view_models.talk import lost_group_ids
from configurator.build_spec.standing import GroupState
from configurator.errors import ChoiceError
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import can_undo
from configurator.workflow.offered import lost_choices

UNDO, HOUSE = "undo", "house-choices"
HOUSE_ON = "Let the workshop choose the rest"
HOUSE_OFF = "Open the workshop’s choices again"


def do_what_was_pressed(reference: str) -> None:
    """Do what the buttons of the head ask for before anything is laid out.

    Laying out first and running again would show the same, one run later.
    """
    if session.pressed(UNDO):
        _undo(reference)
    if session.pressed(HOUSE):
        _turn_house_choices(reference)


def show_head(draft: Draft, groups: Sequence[GroupState]) -> None:
    """Lay out the title with its buttons, and what must be said first."""
    _title(draft)
    frame.show_notices()
    _lost_choices(draft, groups)


def _title(draft: Draft) -> None:
    build = draft.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        vehicle = premises().catalog.vehicle_by_id[build.vehicle]
        frame.heading(vehicle.label, f"for {build.customer.name}", build.reference)
        with st.container(key="talk-actions", horizontal=True, horizontal_alignment="right"):
            nothing_to_undo = not can_undo(premises(), build.reference)
            _button("Undo last change", UNDO, partial(_undo, build.reference), nothing_to_undo)
            is_on = build.house_choices_for_the_rest
            label = HOUSE_OFF if is_on else HOUSE_ON
            _button(label, HOUSE, partial(_turn_house_choices, build.reference))
            if st.button("Wishes", key="to-wishes"):
                session.go_to("wishes", build.reference)
            if st.button("Your day", key="to-day"):
                session.go_to("day", build.reference)
            if st.button("Papers", key="to-papers", type="primary"):
                session.go_to("papers", build.reference)


def _button(label: str, key: str, act: Callable[[], None], disabled: bool = False) -> None:
    was_done = session.pressed(key)
    if st.button(label, key=key, disabled=disabled) and not was_done:
        act()
        st.rerun()


def _undo(reference: str) -> None:
    changes.undo(reference, read_draft(premises(), reference).revision)


def _turn_house_choices(reference: str) -> None:
    draft = read_draft(premises(), reference)
    wanted = not draft.build.house_choices_for_the_rest
    changes.let_the_workshop_choose(reference, draft.revision, wanted=wanted)


def _lost_choices(draft: Draft, groups: Sequence[GroupState]) -> None:
    lost = lost_choices(premises().catalog, draft.build)
    if not lost:
        return
    frame.notice("asked", spoken(ChoiceError(lost)))
    if st.button("Leave them open", key="forget-lost"):
        changes.leave_open(
            draft.build.reference,
            draft.revision,
            lost_group_ids(groups, draft.build.choices),
        )
        st.rerun()
