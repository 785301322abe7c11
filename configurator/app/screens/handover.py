"""Handover: what is missing and who can close it, the final pack, and the handing over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from functools import partial

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import tag, text
from configurator.app.people import acting
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.draft_pack import offer_draft_pack
from configurator.app.screens.life_parts import (
    LOOK,
    do_calmly,
    may_act,
    offer_document,
    show_rows,
    who_acts,
)
from configurator.app.screens.safety import caution
from configurator.app.view_models.handover import (
    HANDED_OVER_CARE,
    MISSING_HEADS,
    missing_rows,
    pack_sentences,
    pages,
    unsettled_words,
)
from configurator.app.view_models.life import due_words
from configurator.app.view_models.words import DAY_TYPED
from configurator.build_life.entries import StageReached
from configurator.build_life.people import Person
from configurator.workflow.handover import ISSUED_PACK, Gate, gate_of, hand_over, issue_pack
from configurator.workflow.measured_warnings import answer_measured_warning
from configurator.workflow.order_payments import due_when_reached
from configurator.workflow.revisions import note_owner_told, note_revision_given

ABOUT = (
    "The final pack can be made once the records are there and within their limits, the sign-offs "
    "hold and no check blocks. Until then the pack stays a draft, and each page of it says so. The "
    "gate is the workshop's own; it approves nothing for the road."
)
OPEN = (
    "Nothing is missing: the final pack can be issued. Whoever issues it states that the vehicle "
    "was built as the issued spec says; the pack prints that beside each choice."
)
TO_TELL = "note what the owner was told or given"
CORRECTED = (
    "A record was corrected after the handover. The next revision of the pack tells what and why; "
    "give it to the owner."
)


def show() -> None:
    """Lay out the handover of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Handover", draft.build, "papers")
    frame.show_notices()
    st.html(tag("p", text(ABOUT)))
    by, reference = acting(), draft.build.reference
    with st.spinner("Looking at what is missing …"):
        gate = gate_of(premises(), reference)
    _unsettled(gate, reference)
    if gate.missing:
        if gate.life.handed_over is not None:
            st.html(caution(HANDED_OVER_CARE, "handed-over-caution"))
        _missing(gate, reference)
        _owner_told(gate, reference, by)
        _warnings(gate, reference, by)
        _draft(gate, reference)
    elif gate.can_be_issued:
        st.html(tag("p", text(CORRECTED if gate.life.handed_over else OPEN), class_="lead"))
        _issue(gate, reference, by)
    _packs(gate, reference, by)
    who_acts(by)


def _unsettled(gate: Gate, reference: str) -> None:
    """Ask to settle provisional sums, while that can still be ordered."""
    life = gate.life
    if gate.spec is None or life.handed_over is not None or life.open_change is not None:
        return
    if told := unsettled_words(gate.spec):
        frame.notice("asked", (told,))
        if st.button("Open the survey", key="to-survey"):
            session.go_to("survey", reference)


def _missing(gate: Gate, reference: str) -> None:
    first, *others = MISSING_HEADS
    title = "Missing for the handover"
    if gate.life.handed_over is not None:
        first, title = "What", "What does not hold"
    show_rows(title, (first, *others), missing_rows(gate.missing))
    with st.container(key="close-it", horizontal=True):
        for page, label in pages(gate.missing):
            if st.button(label, key=f"to-{page}"):
                session.go_to(page, reference)


def _owner_told(gate: Gate, reference: str, by: Person) -> None:
    """Ask to note that the owner knows what does not hold on their vehicle."""
    life = gate.life
    if not life.corrections or life.owner_knows or not may_act(by, ("manager",), TO_TELL):
        return
    _note_of_owner(
        f"told-{life.corrections[-1].number}",
        ("The owner was told on", "How: by telephone, in writing, where that is found"),
        "The owner was told",
        lambda on, how: note_owner_told(
            premises(), reference, told_on=on, how=how, by=by, now=now()
        ),
        "It is noted that the owner was told.",
    )


def _note_of_owner(
    key: str,
    labels: tuple[str, str],
    button: str,
    act: Callable[[date, str], object],
    said: str,
) -> None:
    """Ask on which day and how the owner heard or was given something."""
    day_label, how_label = labels
    with st.form(key, border=False):
        on = st.date_input(day_label, value=now().date(), format=DAY_TYPED)
        how = st.text_input(how_label, max_chars=200)
        sent = st.form_submit_button(button)
    if sent:
        do_calmly(partial(act, on, how or ""), said)


def _warnings(gate: Gate, reference: str, by: Person) -> None:
    """Let an engineer write why the vehicle may be handed over although a check warns of it."""
    if not (by.role == "engineer" or by.is_solo):
        return
    for found in gate.to_be_answered:
        key = f"{found.code}-{found.subject}-{found.value}"
        with st.form(f"warning-{key}", border=False):
            st.html(tag("p", text(f"{found.sentence} {found.remedy}")))
            reason = st.text_area("Why it is handed over so", max_chars=1000, key=f"why-{key}")
            sent = st.form_submit_button("Write the reason")
        if sent:
            act = partial(
                answer_measured_warning,
                premises(),
                reference,
                found.code,
                found.subject,
                reason=reason or "",
                by=by,
                now=now(),
            )
            do_calmly(act, "The reason is written down.")


def _draft(gate: Gate, reference: str) -> None:
    if gate.spec is None or not gate.spec.is_complete:
        return
    offer_draft_pack(reference, "Download the draft with what is measured so far")


def _issue(gate: Gate, reference: str, by: Person) -> None:
    last = gate.life.pack
    label = f"Issue revision {last.revision + 1} of the pack" if last else "Issue the final pack"
    if st.button(label, key="issue-pack", type="primary"):
        with st.spinner("Making the pack …"):
            act = partial(issue_pack, premises(), reference, by=by, now=now())
            do_calmly(act, "The pack is issued, and kept as it is.")


def _listed(changes: Sequence[str]) -> Iterator[str]:
    if changes:
        yield tag("ul", *(tag("li", text(change)) for change in changes))


def _packs(gate: Gate, reference: str, by: Person) -> None:
    sentences = pack_sentences(gate.life)
    if not sentences:
        return
    items = (tag("li", text(sentence), *_listed(changes)) for sentence, changes in sentences)
    st.html(tag("h2", text("Issued packs")) + tag("ul", *items))
    offer_document(reference, ISSUED_PACK, "Download the last issued pack")
    _to_be_given(gate, reference, by)
    if gate.life.handed_over is not None or gate.missing or not gate.pack_is_current:
        return
    due = _due(gate)
    st.html(tag("p", text(f"When it is handed over, {due}.")))
    on = st.date_input("Handed over on", value=now().date(), format=DAY_TYPED, key="handed-over-on")
    if st.button("The vehicle is handed over", key="hand-over"):
        act = partial(hand_over, premises(), reference, handed_over_on=on, by=by, now=now())
        do_calmly(act, f"The vehicle is handed over: {due}.")


def _due(gate: Gate) -> str:
    """Say what falls due with the last stage; that was said already where it is reached."""
    last = premises().catalog.stages[-1].id
    is_reached = last in {body.stage_id for body in gate.life.of(StageReached)}
    if gate.spec is None or is_reached:
        return due_words(Decimal(0))
    return due_words(due_when_reached(premises(), gate.life, gate.spec, last))


def _to_be_given(gate: Gate, reference: str, by: Person) -> None:
    """Ask to note that the owner has the revision that corrects what they were told."""
    pack = gate.life.revision_to_give
    if pack is None or gate.life.corrections or not may_act(by, ("manager",), TO_TELL):
        return
    _note_of_owner(
        f"given-{pack.revision}",
        ("Given to the owner on", "How: by hand, by post, where that is found"),
        f"The owner has revision {pack.revision}",
        lambda on, how: note_revision_given(
            premises(), reference, given_on=on, how=how, by=by, now=now()
        ),
        f"It is noted that the owner has revision {pack.revision}.",
    )
