"""Change orders: what the draft would change, what it costs, and the two signatures."""

from __future__ import annotations

from functools import partial
from typing import Literal

import streamlit as st

from configurator.app import frame
from configurator.app.markup import plain_label, tag, text
from configurator.app.people import acting
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.life_parts import (
    LOOK,
    ask_reasons,
    do_calmly,
    may_act,
    offer_document,
    show_faults_in_the_way,
    show_rows,
    who_acts,
)
from configurator.app.view_models.faults import spoken
from configurator.app.view_models.life import (
    answered_rows,
    change_sentence,
    change_signature,
    difference_rows,
    issued_words,
    payment_rows,
    warnings_to_answer,
)
from configurator.app.view_models.words import DAY_TYPED, money
from configurator.build_life.due_payments import applied_changes
from configurator.build_life.entries import ChangeOrdered
from configurator.build_life.life import Life
from configurator.build_life.people import Person
from configurator.build_life.price_change import price_change_in_words
from configurator.documents.change_order import ChangeOrderContent
from configurator.errors import ConfiguratorError
from configurator.workflow.builds import Draft
from configurator.workflow.change_contents import content_as_written
from configurator.workflow.change_orders import (
    CHANGE_ORDER,
    SIGNING_ROLES,
    propose_change,
    proposed_change,
    sign_change,
    withdraw_change,
)
from configurator.workflow.change_refusals import overtaken_faults
from configurator.workflow.lives import life_of

ABOUT = (
    "Change the draft in the talk; here stands what that changes in the issued spec, at the prices "
    "of the order, with what it costs that the work has gone on. It counts once both have signed."
)
HEADS = ("What differs", "Until now", "From now on")
WARNING_HEADS = ("What a check said", "Why the work goes on")
PAYMENT_HEADS = ("Stage payment, with VAT", "As ordered", "With all changes", "")
SIDES: tuple[tuple[Literal["workshop", "customer"], str], ...] = (
    ("customer", "The customer signed"),
    ("workshop", "Sign for the workshop"),
)
SIGNED_ON = {"customer": "The customer signed on", "workshop": "The workshop signed on"}


def show() -> None:
    """Lay out the change orders of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Changes", draft.build, "papers")
    frame.show_notices()
    st.html(tag("p", text(ABOUT)))
    by, reference = acting(), draft.build.reference
    life = life_of(premises(), reference)
    waiting = life.open_change
    if waiting is not None:
        _waiting(reference, life, waiting, by)
    else:
        _propose(draft, by)
    _applied(life)
    offer_document(reference, CHANGE_ORDER, "Download the last change order")
    who_acts(by)


def _propose(draft: Draft, by: Person) -> None:
    reference = draft.build.reference
    try:
        change = proposed_change(premises(), reference)
    except ConfiguratorError as error:
        st.html(tag("p", text(" ".join(spoken(error))), class_="lead"))
        return
    _content(change.content)
    with st.form("change", border=False):
        answers = ask_reasons(warnings_to_answer(change.spec.findings), by, change.issued.answered)
        sent = st.form_submit_button(f"Write change order C{change.content.number}", type="primary")
    if sent:
        act = partial(
            propose_change,
            premises(),
            reference,
            revision=draft.revision,
            answers=answers,
            by=by,
            now=now(),
        )
        do_calmly(act, "The change order is written. Print it and have it signed by both.")


def _content(content: ChangeOrderContent) -> None:
    show_rows(f"Against spec {content.from_letter}", HEADS, difference_rows(content.differences))
    st.html(tag("p", text(change_sentence(content)), class_="lead"))
    if content.payments:
        show_rows("Payments", PAYMENT_HEADS, payment_rows(content.payments), are_amounts=True)


def _waiting(reference: str, life: Life, order: ChangeOrdered, by: Person) -> None:
    spec, content = content_as_written(premises(), life, order)
    st.html(tag("h2", text(f"Change order C{order.number} waits for signatures")))
    _content(content)
    if order.answered:
        rows = answered_rows(spec.findings, order.answered)
        show_rows("Warnings, and why the work goes on", WARNING_HEADS, rows)
    against = [f"{fault.what}. {fault.remedy}" for fault in overtaken_faults(life, order)]
    show_faults_in_the_way("Why it cannot be signed any more", against)
    signed = {signature.by: signature for signature in life.signatures(order.number)}
    for side, label in SIDES:
        if side in signed:
            st.html(tag("p", text(change_signature(life.entry_of(signed[side])))))
        elif not against:
            _signature(reference, order, (side, label), by)
    with st.expander("Withdraw it"), st.form("withdraw", border=False):
        because = st.text_input("Why", max_chars=200)
        if st.form_submit_button(f"Withdraw C{order.number}"):
            act = partial(
                withdraw_change,
                premises(),
                reference,
                order.number,
                because=because or "",
                by=by,
                now=now(),
            )
            do_calmly(act, f"C{order.number} is withdrawn. The issued spec stays as it was.")


def _signature(
    reference: str,
    order: ChangeOrdered,
    side_and_label: tuple[Literal["workshop", "customer"], str],
    by: Person,
) -> None:
    side, label = side_and_label
    if side == "workshop" and not may_act(
        by, SIGNING_ROLES, "sign a change order for the workshop"
    ):
        return
    with st.form(f"change-{side}", border=False):
        on = st.date_input(
            SIGNED_ON[side], value=now().date(), format=DAY_TYPED, key=f"signed-on-{side}"
        )
        how = st.text_input(
            "Where the signed paper is", placeholder="On paper, in the file", max_chars=200
        )
        sent = st.form_submit_button(plain_label(label))
    if sent:
        act = partial(
            sign_change,
            premises(),
            reference,
            order.number,
            side=side,
            how=how or "",
            signed_on=on,
            by=by,
            now=now(),
        )
        do_calmly(act, lambda entries: f"Noted for the {side}.{issued_words(entries)}")


def _applied(life: Life) -> None:
    applied = applied_changes(life)
    if not applied:
        return
    items = (
        tag(
            "li",
            text(
                f"C{order.number}, from spec {order.from_letter}: "
                f"{price_change_in_words(order.price_change_gbp + order.late_change_gbp, money)}"
            ),
        )
        for order in applied
    )
    st.html(tag("h2", text("Signed by both")) + tag("ul", *items))
