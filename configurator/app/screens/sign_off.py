"""Sign-off: the issued spec, who answers for which part of it, and the stages of the build."""

from __future__ import annotations

from functools import partial

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import plain_label, tag, text
from configurator.app.people import acting
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_to_change, show_head
from configurator.app.screens.draft_pack import offer_draft_pack
from configurator.app.screens.life_parts import (
    LOOK,
    ask_reasons,
    do_calmly,
    may_act,
    show_faults_in_the_way,
    show_rows,
    told_of_lost_choices,
    who_acts,
)
from configurator.app.view_models.faults import spoken
from configurator.app.view_models.life import (
    answered_rows,
    due_words,
    signed_words,
    stage_sentences,
    standing_against,
    warnings_to_answer,
    who_and_when,
)
from configurator.app.view_models.words import DAY_TYPED
from configurator.build_life.customers_order import has_ordered, how_it_was_ordered
from configurator.build_life.entries import SpecIssued, StageReached
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.sign_off_state import SignOffState
from configurator.build_life.stage_gate import next_stage, stage_findings
from configurator.errors import LifeError
from configurator.workflow.as_built import how_built_stands
from configurator.workflow.builds import Draft
from configurator.workflow.issuing import ISSUING_ROLES, freeze, issued_spec, refuse_beside_order
from configurator.workflow.lives import life_of
from configurator.workflow.order_payments import due_when_reached
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.sign_offs import (
    how_sign_offs_stand,
    issued_sheet,
    make_sign_off_record,
    sign,
)
from configurator.workflow.sign_offs_asked import sign_offs_asked
from configurator.workflow.stages import STAGE_ROLES, reach_stage

ABOUT = (
    "Each signature is given for one exact spec. When a later letter changes what it covers, it is "
    "void and asked for again. Somebody else than who issued the spec must be among the signers. "
    "It is the workshop's own check and approves nothing to an authority."
)
WARNING_HEADS = ("What a check said", "Why the work goes on")
PAST_THE_CUSTOMER = (
    "The customer was given Q{number} and has not accepted it. Once they have signed, note it on "
    "the page of the quotation: that issues spec A. Issued without their order, Q{number} can no "
    "longer be accepted, and both the spec sheet and the sign-off record say why the customer has "
    "not ordered it."
)
NOT_ORDERED = "Why it is issued although the customer has not ordered it"
ISSUING = (
    "Issuing freezes the draft as it is now, with every value it was computed from. After the "
    "order, what changes choices or price goes through a change order instead."
)


def show() -> None:
    """Lay out the sign-offs and stages of the build in the address."""
    draft = draft_to_change()
    if draft is None:
        return
    st.html(LOOK)
    show_head("Sign-off", draft.build, "papers")
    frame.show_notices()
    st.html(tag("p", text(ABOUT)))
    by, life = acting(), life_of(premises(), draft.build.reference)
    issued = life.issued
    if issued is None:
        st.html(tag("p", text("No spec is issued yet."), class_="lead"))
    else:
        _issued(draft.build.reference, life, issued)
        _sign_offs(draft.build.reference, life, by)
        _record(draft.build.reference)
        _stages(draft.build.reference, life, by)
    if life.handed_over is None and not told_of_lost_choices(draft):
        _issue(draft, life, by)
    who_acts(by)


def _issued(reference: str, life: Life, issued: SpecIssued) -> None:
    entry, why = life.entry_of(issued), f" {issued.because.rstrip('.')}." if issued.because else ""
    st.html(
        tag("p", text(f"Spec {issued.letter}, {issued.spec_sha256[:12]}"), class_="lead")
        + tag("p", text(f"Issued by {who_and_when(entry)}.{why}"))
        + tag("p", text(how_it_was_ordered(life, issued)))
    )
    _what_is_signed(reference, issued)


def _what_is_signed(reference: str, issued: SpecIssued) -> None:
    """Give to read what a signature stands for: spec, texts for the owner, reasons of warnings."""
    spec = issued_spec(premises(), reference)
    with st.container(key="to-read", horizontal=True):
        st.download_button(
            f"Download spec {issued.letter} to read",
            data=lambda: issued_sheet(premises(), reference, now()).content,
            file_name=f"{reference}-spec-{issued.letter}.pdf",
            mime="application/pdf",
            key="download-issued-spec",
            on_click="ignore",
        )
        if spec.is_complete:
            offer_draft_pack(reference, "Download the draft handover pack to read")
    if issued.answered:
        rows = answered_rows(spec.findings, issued.answered)
        show_rows("Warnings, and why the work goes on", WARNING_HEADS, rows)


def _sign_offs(reference: str, life: Life, by: Person) -> None:
    states, missing = how_sign_offs_stand(premises(), reference)
    for state in states:
        with st.container(key=f"sign-off-{state.sign_off.id}"):
            _sign_off(reference, life, state, by)
    if next_stage(life, premises().catalog.stages) is None:
        # Before that, what is missing stands beside the stage that waits for it.
        show_faults_in_the_way("Still missing", missing)


def _sign_off(reference: str, life: Life, state: SignOffState, by: Person) -> None:
    issued = life.of(SpecIssued)[-1]
    sign_off = state.sign_off
    role = sign_off.role.replace("-", " ")
    st.html(
        tag("h2", text(f"{sign_off.label} ({role})"))
        + tag("p", text(f"“{sign_off.statement}”"))
        + tag("p", text(signed_words(state)), class_="small")
    )
    # A button of its own for each letter: a click on an older one signs nothing unread.
    key, signed = f"sign-{sign_off.id}-{issued.letter}", state.signed
    for letter in (spec.letter for spec in life.of(SpecIssued)[:-1]):
        if session.pressed(f"sign-{sign_off.id}-{letter}"):
            said = f"Spec {issued.letter} took the place of {letter}: read it, then sign."
            frame.notice("asked", (said,))
    if signed is not None and session.pressed(key):
        said = f"“{sign_off.label}” was signed a moment before by {signed.by.in_words}."
        frame.notice("asked", (said,))
    may_sign = by.role == sign_off.role or by.is_solo
    label = plain_label(f"Sign “{sign_off.label}”, spec {issued.letter}")
    if signed is None and may_sign and st.button(label, key=key):
        act = partial(
            sign,
            premises(),
            reference,
            sign_off.id,
            spec_sha256=issued.spec_sha256,
            by=by,
            now=now(),
        )
        do_calmly(act, f"“{sign_off.label}” is signed by {by.in_words}.")


def _record(reference: str) -> None:
    st.download_button(
        "Download the sign-off record",
        data=lambda: make_sign_off_record(premises(), reference, now()).content,
        file_name=f"{reference}-sign-off-record.pdf",
        mime="application/pdf",
        key="download-sign-off-record",
        on_click="ignore",
    )


def _stages(reference: str, life: Life, by: Person) -> None:
    stages, sign_offs = premises().catalog.stages, sign_offs_asked(premises(), life)
    labels = {stage.id: stage.label for stage in stages}
    reached: list[tuple[str, Entry]] = [
        (labels.get(entry.body.stage_id, entry.body.stage_id), entry)
        for entry in life.entries
        if isinstance(entry.body, StageReached)
    ]
    items = (tag("li", text(sentence)) for sentence in stage_sentences(reached))
    st.html(tag("h2", text("Stages")) + tag("ul", *items))
    coming = next_stage(life, stages)
    if coming is None or life.issued is None:
        return
    built = how_built_stands(premises(), reference)
    findings = stage_findings(life, stages, coming, sign_offs, built.verdicts)
    show_faults_in_the_way(
        f"Before {coming.label} can be reached",
        [standing_against(found, coming.label) for found in findings],
    )
    if coming is stages[-1]:
        if st.button("Open the handover", key="to-handover"):
            session.go_to("handover", reference)
        return
    due = due_words(due_when_reached(premises(), life, built.spec, coming.id))
    if life.open_change is None:
        st.html(tag("p", text(f"When {coming.label} is reached, {due}.")))
    on = st.date_input(
        f"{coming.label} was reached on",
        value=now().date(),
        format=DAY_TYPED,
        key=f"reached-on-{coming.id}",
    )
    label = plain_label(f"{coming.label} is reached")
    may = may_act(by, STAGE_ROLES, "note that a stage is reached")
    if st.button(label, key="reach-stage", disabled=bool(findings) or not may):
        act = partial(
            reach_stage, premises(), reference, coming.id, reached_on=on, by=by, now=now()
        )
        do_calmly(act, f"{coming.label} is noted as reached: {due}.")


def _issue(draft: Draft, life: Life, by: Person) -> None:
    reference, issued = draft.build.reference, life.issued
    spec = spec_of_draft(premises(), reference)
    if issued is not None and issued.spec_sha256 == spec.sha256():
        return
    title = "Issue the first spec" if issued is None else "Issue the next letter"
    st.html(tag("h2", text(title)) + tag("p", text(ISSUING)))
    if not may_act(by, ISSUING_ROLES, "issue a spec"):
        return
    try:
        refuse_beside_order(life, spec)
    except LifeError as error:
        st.html(tag("p", text(" ".join(spoken(error))), class_="missing"))
        return
    quoted = None if has_ordered(life) else life.quotation
    if quoted is not None:
        frame.notice("asked", (PAST_THE_CUSTOMER.format(number=quoted.number),))
    with st.form("issue", border=False):
        not_ordered = "" if quoted is None else st.text_input(NOT_ORDERED, max_chars=200)
        because = "" if issued is None else st.text_input("Why it is issued again", max_chars=200)
        answers = ask_reasons(warnings_to_answer(spec.findings), by)
        sent = st.form_submit_button(title)
    if sent:
        act = partial(
            freeze,
            premises(),
            reference,
            revision=draft.revision,
            answers=answers,
            because=because or "",
            not_ordered_because=not_ordered or "",
            by=by,
            now=now(),
        )
        do_calmly(act, "The spec is issued. It waits for the sign-offs.")
