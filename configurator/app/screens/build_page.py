"""How the pages about one build open: its draft, its head, and its figures computed once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Literal

import streamlit as st

from configurator.app import frame, session
from configurator.app.premises import premises
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import BuildInput
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import outline_of_draft
from configurator.workflow.offered import check_vehicle

CHANGED_ELSEWHERE = (
    "The talk was changed on another screen. Nothing was lost: what is shown here now is what is "
    "saved."
)
BACK: dict[Literal["consultation", "papers"], tuple[str, str]] = {
    "consultation": ("Back to the talk", "to-talk"),
    "papers": ("Back to the papers", "to-papers"),
}


def draft_in_address() -> Draft | None:
    """Read the draft of the build in the address; where none is named, say so and give None."""
    reference = session.build_reference()
    if reference is None:
        frame.no_build_named()
        return None
    return read_draft(premises(), reference)


def draft_to_change(if_changed: str = CHANGED_ELSEWHERE) -> Draft | None:
    """Read the draft as `draft_in_address` does, and say when other hands changed it meanwhile.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    draft = draft_in_address()
    if draft is None:
        return None
    check_vehicle(premises().catalog, draft.build.vehicle)
    if session.changed_elsewhere(draft.build.reference, draft.revision):
        session.say("asked", (if_changed,))
    return draft


def show_head(title: str, build: BuildInput, back: Literal["consultation", "papers"]) -> None:
    """Lay out the title, whose build it is about, and the ways back."""
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        vehicle = premises().catalog.vehicle_by_id[build.vehicle]
        frame.heading(title, f"{vehicle.label} for {build.customer.name}", build.reference)
        if back != "consultation" and st.button("To the talk", key="to-talk"):
            session.go_to("consultation", build.reference)
        label, key = BACK[back]
        if st.button(label, key=key):
            session.go_to(back, build.reference)


def show_computed(
    title: str, *, look: Path, meanwhile: str, lay_out: Callable[[Spec], None]
) -> None:
    """Lay out a page that shows computed figures of the build in the address.

    Parameters
    ----------
    title : str
        Of the page.
    look : Path
        Its style sheet.
    meanwhile : str
        What is said until the figures are there.
    lay_out : callable
        Lays out what stands below the head.
    """
    draft = draft_in_address()
    if draft is None:
        return
    with st.spinner(meanwhile):
        spec = outline_of_draft(premises(), draft)
    st.html(look)
    show_head(title, draft.build, "papers")
    frame.show_notices()
    lay_out(spec)
