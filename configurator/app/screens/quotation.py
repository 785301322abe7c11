"""The quotation: give it, see how it stands, note that it was accepted."""

from __future__ import annotations

from functools import partial

import streamlit as st

from configurator.app import frame
from configurator.app.markup import tag, text
from configurator.app.people import acting
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.life_parts import (
    LOOK,
    ask_reasons,
    do_calmly,
    offer_document,
    show_rows,
    who_acts,
)
from configurator.app.view_models.life import difference_rows, warnings_to_answer
from configurator.build_life.people import Person
from configurator.build_life.quotation_state import QuotationState
from configurator.workflow.builds import Draft
from configurator.workflow.issuing import read_spec
from configurator.workflow.lives import life_of
from configurator.workflow.quotations import (
    QUOTATION,
    accept_quotation,
    give_quotation,
    how_quotation_stands,
)

ABOUT = (
    "A quotation is a fixed price for stated work until its day. It is given at today's prices and "
    "kept; a later one takes its place. Once the customer has signed it, it is issued as spec A."
)
HEADS = ("What differs today", "As quoted", "Today")
NO_CANCELLATION = (
    "Goods made to the customer's specification carry no fourteen-day right to cancel. Say it "
    "plainly before the customer signs."
)


def show() -> None:
    """Lay out the quotation of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Quotation", draft.build, "papers")
    frame.show_notices()
    by, reference = acting(), draft.build.reference
    state = how_quotation_stands(premises(), reference, now().date())
    st.html(tag("p", text(ABOUT)) + tag("p", text(state.sentence), class_="lead"))
    if state.differences is not None:
        show_rows("", HEADS, difference_rows(state.differences))
    with st.container(key="quotation-acts", horizontal=True):
        offer_document(reference, QUOTATION, "Download the quotation")
        if state.verdict != "accepted":
            _give(draft, state, by)
    if state.can_be_accepted:
        _accept(reference, state, by)
    who_acts(by)


def _give(draft: Draft, state: QuotationState, by: Person) -> None:
    label = "Give a quotation" if state.quoted is None else "Renew it at today's prices"
    if st.button(label, key="give-quotation", type="primary"):
        give = partial(
            give_quotation,
            premises(),
            draft.build.reference,
            revision=draft.revision,
            by=by,
            now=now(),
        )
        do_calmly(give, "The quotation is kept. Download it below and give it to the customer.")


def _accept(reference: str, state: QuotationState, by: Person) -> None:
    quoted = state.quoted
    if quoted is None:
        return
    st.html(tag("h2", text(f"The customer accepts Q{quoted.number}")))
    st.html(tag("p", text(NO_CANCELLATION), class_="notice asked", role="note"))
    warnings = warnings_to_answer(
        read_spec(premises(), life_of(premises(), reference), quoted.spec_sha256).findings
    )
    with st.form("accept", border=False):
        on = st.date_input("Signed on", value=now().date(), key="accepted-on")
        how = st.text_input(
            "Where the signed paper is", placeholder="On paper, in the file", max_chars=200
        )
        answers = ask_reasons(warnings, by)
        sent = st.form_submit_button("It was accepted: issue spec A", type="primary")
    if sent:
        accept = partial(
            accept_quotation,
            premises(),
            reference,
            quoted.number,
            how=how or "",
            accepted_on=on,
            answers=answers,
            by=by,
            now=now(),
        )
        do_calmly(accept, "Spec A is issued. It waits for the sign-offs within the workshop.")
