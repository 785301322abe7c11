"""The papers of a build: the spec sheet, the handover pack, and what was made so far."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import tag, text
from configurator.app.premises import now, premises
from configurator.app.screens.build_page import draft_in_address, show_head
from configurator.app.screens.draft_pack import offer_draft_pack
from configurator.app.screens.life_parts import offer_document
from configurator.app.screens.made_papers import show_made_papers
from configurator.app.view_models.faults import spoken
from configurator.app.view_models.papers import paper_lines, why_no_pack
from configurator.build_life.life import Life
from configurator.errors import ChoiceError, ConfiguratorError
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import outline_of_draft
from configurator.workflow.draft_differs import draft_differs
from configurator.workflow.handover import ISSUED_PACK
from configurator.workflow.lives import life_of
from configurator.workflow.offered import lost_choices
from configurator.workflow.papers import (
    list_documents,
    make_calculation_sheet,
    make_handover_pack,
    make_spec_sheet,
    spec_of_draft,
)
from configurator.workflow.premises import Premises
from configurator.workflow.sign_offs import issued_sheet
from configurator.workflow.stored_document import StoredDocument

SHEET = (
    "A few pages for the customer: what is chosen, what it costs, how far it drives, and "
    "what is still open."
)
PACK = (
    "The folder for the owner: how to drive, charge and care for this very vehicle, its safety "
    "texts and the emergency sheet. Until the finished vehicle is measured each page says draft."
)
ISSUED = (
    "The folder for the owner as it was issued last, kept byte for byte; a correction is told by "
    "the next revision."
)
MEASURED_DRAFT = (
    "The vehicle as it is on record now, for reading within the workshop. Each page says draft; "
    "the owner has the issued pack."
)
WEIGHTS = (
    "From empty to fully laden: axles, sides, centre of gravity, how sure each is, all limits, and "
    "a drawing to scale with the masses in it."
)
ELECTRICAL = (
    "Currents, cables, fuse, contactors, pre-charge, isolation and the 12 V supply: each value "
    "with its bound, how it is computed, and from where."
)
CHARGING = (
    "Times warm and cold with what limits them, range an hour, cost and plug; pulling away, hills, "
    "top speed and fast roads."
)
WORKING = (
    "Price, masses, axles, range, charging, plan: where each figure comes from, step by step, and "
    "what would make it surer."
)
MEASURED = (
    "Coast-downs and trips as they were driven, held against what the catalog assumed; what is "
    "kept makes the range surer."
)
CALCULATION = (
    "For the workshop: every figure worked out on paper, with the electrical checks and the "
    "drawing of the masses. It approves nothing."
)
SURVEY = (
    "What came in, and each of its parts: keep, repair or replace, with hours, parts, provisional "
    "sums and where it comes from."
)
QUOTATION = (
    "A fixed price for stated work until its day; once the customer has signed it, it is issued as "
    "spec A."
)
SIGN_OFF = (
    "The issued spec, who answers for which part of it within the workshop, and the stages of the "
    "build."
)
HANDOVER = (
    "What is missing for the final pack, with who can close it; the issued packs with their "
    "revisions, and the handing over."
)
AS_BUILT = (
    "What the finished vehicle needs on record: weighed, measured, tested and read, each held "
    "against its limit."
)
CHANGES = "What the draft changes in the issued spec, what that costs, and both signatures."
OF_THE_DRAFT = (
    "It is of the draft, which differs from spec {letter} and which nobody has ordered; its price "
    "leaves out what changes cost for being late."
)
CORRECTED = (
    "What the owner has was corrected since: the page “Handover” says what, and whether it holds."
)
Maker = Callable[[Premises, str, datetime], StoredDocument]


def show() -> None:
    """Lay out the downloads of the build in the address."""
    draft = draft_in_address()
    if draft is None:
        return
    reference = draft.build.reference
    with st.spinner("Reading the choices …"):
        spec = outline_of_draft(premises(), draft)
    lost = lost_choices(premises().catalog, draft.build)
    if lost:
        session.say("asked", spoken(ChoiceError(lost)))
    show_head("Papers", draft.build, "consultation")
    frame.show_notices()
    life = life_of(premises(), reference)
    if life.corrections:
        frame.notice("asked", (CORRECTED,))
    _section("For the customer")
    left, right = st.columns(2, gap="medium")
    # What counts most comes first: once there is one, the issued pack.
    sheet, pack = (left, right) if life.pack is None else (right, left)
    with sheet, st.container(key="spec-sheet"):
        _spec_sheet(draft, life, is_lost=bool(lost))
    with pack, st.container(key="handover-pack"):
        if life.pack is None:
            missing = why_no_pack(spec)
            _paper("Handover pack", PACK, missing)
            _download(
                "handover-pack",
                "Download the handover pack",
                make_handover_pack,
                reference,
                disabled=bool(missing or lost),
            )
        else:
            _issued_pack(reference, life.pack.revision)
    _for_the_order(reference)
    _for_everybody(reference)
    _for_the_workshop(reference, is_lost=bool(lost))
    _made_so_far(reference, life, is_lost=bool(lost))


def _spec_sheet(draft: Draft, life: Life, *, is_lost: bool) -> None:
    """Offer the sheet of the draft; once it is issued and nothing differs, that of the letter."""
    reference, issued = draft.build.reference, life.issued
    differs = draft_differs(premises(), life, reference, draft.revision)
    is_issued = issued is not None and (life.handed_over is not None or not differs)
    title = f"Spec sheet, spec {issued.letter}" if issued and is_issued else "Spec sheet"
    note = OF_THE_DRAFT.format(letter=issued.letter) if issued and not is_issued else ""
    _paper(title, SHEET, note)
    _download(
        "spec-sheet",
        "Download the spec sheet",
        issued_sheet if is_issued else partial(make_spec_sheet, told=note),
        reference,
        is_main=life.pack is None,
        disabled=is_lost and not is_issued,
    )


def _issued_pack(reference: str, revision: int) -> None:
    _paper(f"Handover pack, revision {revision}", ISSUED, "")
    label = f"Download the issued pack, revision {revision}"
    offer_document(reference, ISSUED_PACK, label, is_main=True)
    _paper("Draft pack, as far as measured", MEASURED_DRAFT, "")
    offer_draft_pack(reference, "Download the draft pack, as far as measured")


def _made_so_far(reference: str, life: Life, *, is_lost: bool) -> None:
    documents = list_documents(premises(), reference)
    # Papers are of the spec worked out to the last digit, which the talk's outline is not.
    is_told = bool(documents) and not is_lost
    spec_sha256 = spec_of_draft(premises(), reference).sha256() if is_told else None
    show_made_papers(paper_lines(documents, spec_sha256, life))


def _for_the_order(reference: str) -> None:
    _section("The order")
    _way_to("survey", "Survey of the donor", SURVEY, "Open the survey", reference)
    _way_to("quotation", "Quotation", QUOTATION, "Open the quotation", reference)
    _way_to("sign-off", "Sign-off", SIGN_OFF, "Open the sign-offs", reference)
    _way_to("changes", "Changes", CHANGES, "Open the changes", reference)
    _way_to("as-built", "As built", AS_BUILT, "Open the as-built record", reference)
    _way_to("handover", "Handover", HANDOVER, "Open the handover", reference)


def _for_everybody(reference: str) -> None:
    _section("The figures")
    _way_to("charging", "Charging and driving", CHARGING, "Open charging and driving", reference)
    _way_to("weights", "Weights", WEIGHTS, "Open the weights", reference)
    _way_to("working", "How each figure is worked out", WORKING, "Open the workings", reference)


def _for_the_workshop(reference: str, *, is_lost: bool) -> None:
    _section("For the workshop")
    _way_to("electrical", "Electrical set", ELECTRICAL, "Open the electrical set", reference)
    _way_to("measurements", "Measured on the road", MEASURED, "Enter what was measured", reference)
    with st.container(key="calculation-sheet", horizontal=True, vertical_alignment="center"):
        _paper("Calculation sheet", CALCULATION, "")
        _download(
            "calculation-sheet",
            "Download the calculation sheet",
            make_calculation_sheet,
            reference,
            disabled=is_lost,
        )


def _section(title: str) -> None:
    st.html(tag("h2", text(title)))


def _way_to(page: session.PageName, title: str, about: str, label: str, reference: str) -> None:
    with st.container(key=f"way-to-{page}", horizontal=True, vertical_alignment="center"):
        _paper(title, about, "")
        if st.button(label, key=f"to-{page}"):
            session.go_to(page, reference)


def _paper(title: str, about: str, missing: str) -> None:
    why = tag("p", text(missing), class_="missing") if missing else ""
    st.html(tag("h3", text(title)) + tag("p", text(about)) + why)


def _download(
    name: str,
    label: str,
    make: Maker,
    reference: str,
    *,
    is_main: bool = False,
    disabled: bool = False,
) -> None:
    st.download_button(
        label,
        data=partial(_content, make, premises(), reference, session.notices()),
        file_name=f"{reference}-{name}.pdf",
        mime="application/pdf",
        key=f"download-{name}",
        on_click="ignore",
        type="primary" if is_main else "secondary",
        disabled=disabled,
    )


def _content(make: Maker, opened: Premises, reference: str, notices: list[session.Notice]) -> bytes:
    # Runs when the button is pressed, outside any run of the screen; the next run says it.
    try:
        return make(opened, reference, now()).content
    except ConfiguratorError as error:
        notices.append(("refused", spoken(error)))
        raise
