"""The quotation: give it, see how it stands, note that it was accepted."""

from __future__ import annotations

from functools import partial

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import tag, text
from configurator.app.people import acting
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.discount import show_discount
from configurator.app.screens.life_parts import (
    LOOK,
    ask_reasons,
    do_calmly,
    offer_document,
    show_rows,
    told_of_lost_choices,
    who_acts,
)
from configurator.app.view_models.life import difference_rows, price_rows, warnings_to_answer
from configurator.app.view_models.words import DAY_TYPED
from configurator.build_life.people import Person
from configurator.build_life.quotation_state import QuotationState
from configurator.build_spec.survey_section import not_surveyed_words
from configurator.documents.quotation import first_payment, what_it_is
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import outline_of_draft
from configurator.workflow.issuing import read_spec
from configurator.workflow.lives import life_of
from configurator.workflow.quotations import (
    QUOTATION,
    accept_quotation,
    give_quotation,
    how_quotation_stands,
    payments_quoted,
)

ABOUT = (
    "A quotation binds the workshop until its day: to a fixed price once every choice is made, to "
    "the price of what is chosen while some are open. It is given at today's prices and kept; a "
    "later one takes its place. Once the customer has signed it, it is issued as spec A."
)
HEADS = ("What differs today", "As quoted", "Today")
PRICE_HEADS = ("The price", "With VAT")
AN_ENGINEER = "A check warns, so an engineer notes the acceptance and writes why the work goes on."
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
    is_lost = state.verdict != "accepted" and told_of_lost_choices(draft)
    if not is_lost or state.quoted is not None:
        _content(draft, state)
    if state.verdict != "accepted" and not is_lost:
        _unseen(draft)
    with st.container(key="quotation-acts", horizontal=True):
        offer_document(reference, QUOTATION, "Download the quotation")
        if state.verdict != "accepted" and not is_lost:
            _give(draft, state, by)
    if state.verdict == "accepted" and st.button("Open the sign-offs", key="to-sign-off"):
        session.go_to("sign-off", reference)
    if state.can_be_accepted:
        _accept(reference, state, by)
    if state.verdict != "accepted" and not is_lost:
        show_discount(draft)
    who_acts(by)


def _content(draft: Draft, state: QuotationState) -> None:
    """Show what is quoted, or would be: the parts of the price, and what is still open."""
    if state.quoted is None:
        title, spec = "What would be quoted", outline_of_draft(premises(), draft)
    else:
        life = life_of(premises(), draft.build.reference)
        title = f"Q{state.quoted.number} in brief"
        spec = read_spec(premises(), life, state.quoted.spec_sha256)
    show_rows(title, PRICE_HEADS, price_rows(spec), are_amounts=True)
    for said in (what_it_is(spec), first_payment(spec, payments_quoted(premises(), spec))):
        st.html(tag("p", text(said)))


def _unseen(draft: Draft) -> None:
    """Say which parts of the donor the next quotation's price does not hold for."""
    unseen = not_surveyed_words(outline_of_draft(premises(), draft))
    if unseen:
        frame.notice("asked", (unseen,))
        if st.button("Open the survey", key="to-survey"):
            session.go_to("survey", draft.build.reference)


def _give(draft: Draft, state: QuotationState, by: Person) -> None:
    label = "Give a quotation" if state.quoted is None else "Renew it at today's prices"
    reference, seen = draft.build.reference, draft.revision

    def give() -> None:
        quoted = give_quotation(premises(), reference, revision=seen, by=by, now=now())
        if quoted.revision != seen:
            # The prices of today are this screen's own change of the draft.
            session.note_saved(reference, seen, quoted.revision)

    is_main = not state.can_be_accepted
    if st.button(label, key="give-quotation", type="primary" if is_main else "secondary"):
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
    waits = bool(warnings) and by.role != "engineer" and not by.is_solo
    if waits:
        st.html(tag("p", text(AN_ENGINEER), class_="missing"))
    # A form of its own for each quotation: a click on an older one accepts nothing else.
    with st.form(f"accept-{quoted.number}", border=False):
        on = st.date_input("Signed on", value=now().date(), format=DAY_TYPED, key="accepted-on")
        how = st.text_input(
            "Where the signed paper is", placeholder="On paper, in the file", max_chars=200
        )
        answers = ask_reasons(warnings, by)
        label = f"Q{quoted.number} was accepted: issue spec A"
        sent = st.form_submit_button(label, type="primary", disabled=waits)
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
