"""The entry of a discount, with its reason."""

from __future__ import annotations

from functools import partial

import streamlit as st

from configurator.app import session
from configurator.app.changes import keep
from configurator.app.markup import tag, text
from configurator.app.screens.form_marks import form_mark
from configurator.app.view_models.faults import spoken_by_entry
from configurator.workflow.builds import Draft
from configurator.workflow.discount import set_discount

ABOUT = "It is a line of the quotation, with its reason. Empty both fields to take it away."


def show_discount(draft: Draft) -> None:
    """Lay out the discount of a draft, which the next quotation names."""
    kept = draft.build.discount
    mark = form_mark(kept)
    st.html(tag("h2", text("Discount")) + tag("p", text(ABOUT), class_="small"))
    with st.form(f"discount-{mark}", border=False):
        left, right = st.columns([1, 2])
        with left:
            amount = st.text_input(
                "Discount in £ with VAT",
                value=f"{kept.amount_gbp}" if kept else "",
                max_chars=20,
                key=f"discount-amount-{mark}",
            )
        with right:
            reason = st.text_input(
                "Why it is given",
                value=kept.reason if kept else "",
                max_chars=200,
                key=f"discount-reason-{mark}",
            )
        sent = st.form_submit_button("Keep the discount")
    if sent:
        _keep(draft, amount or "", reason or "")
        st.rerun()


def _keep(draft: Draft, amount: str, reason: str) -> None:
    step = partial(set_discount, amount_gbp=amount, reason=reason)
    if keep(draft, step, in_words=spoken_by_entry):
        session.say("said", ("The discount is kept with the draft; quote anew to promise it.",))
