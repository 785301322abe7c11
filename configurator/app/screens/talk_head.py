"""The head of the talk: whose it is, undo, the workshop's choices, the way to the papers."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from configurator.app import changes, frame, session
from configurator.app.premises import premises
from configurator.app.view_models.faults import spoken
from configurator.app.view_models.talk import lost_group_ids
from configurator.build_spec.standing import GroupState
from configurator.errors import ChoiceError
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import can_undo
from configurator.workflow.offered import lost_choices


def show_head(draft: Draft, groups: Sequence[GroupState]) -> None:
    """Lay out the title with its buttons, and what must be said first."""
    _title(draft)
    frame.show_notices()
    _lost_choices(draft, groups)


def _title(draft: Draft) -> None:
    build = draft.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        vehicle = premises().catalog.vehicle_by_id[build.vehicle]
        frame.heading(vehicle.label, f"for {build.customer.name} · {build.reference}")
        with st.container(key="talk-actions", horizontal=True, horizontal_alignment="right"):
            nothing_to_undo = not can_undo(premises(), build.reference)
            if st.button("Undo last change", key="undo", disabled=nothing_to_undo):
                changes.undo(build.reference, draft.revision)
                st.rerun()
            _house_button(draft)
            if st.button("Papers", key="to-papers", type="primary"):
                session.go_to("papers", build.reference)


def _house_button(draft: Draft) -> None:
    is_on = draft.build.house_choices_for_the_rest
    label = "Open the workshop’s choices again" if is_on else "Let the workshop choose the rest"
    if st.button(label, key="house-choices"):
        changes.let_the_workshop_choose(draft.build.reference, draft.revision, wanted=not is_on)
        st.rerun()


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
