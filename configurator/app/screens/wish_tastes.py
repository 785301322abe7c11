"""What must be kept of the choices made so far, and what would be liked, in order."""

from __future__ import annotations

import streamlit as st

from configurator.app import session, wish_changes
from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.view_models.wish_list import (
    PreferenceLine,
    keep_lines,
    moved,
    preferable,
    preference_lines,
)
from configurator.workflow.builds import Draft

FORM = "new-preference"
PREFERENCES = "Options you would like. The higher one stands in the list, the more it counts."
KEEPS = "Choices made in the talk that no answer may alter. The others may change."
NOTHING_CHOSEN = "Nothing is chosen in the talk yet, so nothing has to be kept."


def show_preferences(draft: Draft) -> None:
    """Lay out the preferences in their order, to be moved and removed, and a new one."""
    st.html(tag("h2", text("What would be liked")) + tag("p", text(PREFERENCES), class_="lead"))
    catalog = premises().catalog
    lines = preference_lines(draft.build, catalog)
    for line in lines:
        _preference(draft, line, is_last=line.position == len(lines))
    offered = preferable(draft.build, catalog)
    with (
        st.form(FORM, border=False),
        st.container(key="preference-new", horizontal=True, vertical_alignment="bottom"),
    ):
        label = st.selectbox(
            "Another option",
            list(offered),
            index=None,
            placeholder="Choose, or type a part of its name",
            key=f"liked-{session.form_number(FORM)}",
        )
        sent = st.form_submit_button("Add it", key="add-preference")
    if sent and label in offered:
        if wish_changes.prefer_these(draft, (*draft.build.preferences, offered[label])):
            session.empty_form(FORM)
        st.rerun()


def show_keeps(draft: Draft) -> None:
    """Lay out the choices made so far, each to be ticked as one to keep."""
    lines = keep_lines(draft.build, premises().catalog)
    about = KEEPS if lines else NOTHING_CHOSEN
    st.html(tag("h2", text("What must stay")) + tag("p", text(about), class_="lead"))
    with st.container(key="wish-keeps"):
        for line in lines:
            key = f"keep-{draft.build.reference}-{line.group_id}"
            session.show_stored(key, line.is_kept)
            wanted = st.checkbox(plain_label(line.label), key=key)
            if wanted != line.is_kept:
                if not wish_changes.keep(draft, line.group_id, wanted=wanted):
                    session.show_stored_again(key, line.is_kept)
                st.rerun()


def _preference(draft: Draft, line: PreferenceLine, *, is_last: bool) -> None:
    order = draft.build.preferences
    name = plain_label(line.label)
    lost = "" if line.is_offered else tag("span", text(" is not offered any more"), class_="small")
    with st.container(key=f"preference-{line.key}", horizontal=True, vertical_alignment="center"):
        st.html(tag("p", tag("b", text(f"{line.position}. ")), text(line.label), lost))
        new = None
        if st.button(f"Move up {name}", key=f"short-up-{line.key}", disabled=line.position == 1):
            new = moved(order, line.preference, -1)
        if st.button(f"Move down {name}", key=f"short-down-{line.key}", disabled=is_last):
            new = moved(order, line.preference, 1)
        if st.button(f"Remove {name}", key=f"short-remove-{line.key}"):
            new = tuple(other for other in order if other != line.preference)
    if new is not None:
        wish_changes.prefer_these(draft, new)
        st.rerun()
