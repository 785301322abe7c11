"""The papers of a build: the spec sheet, the handover pack, and what was made so far."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import tag, text
from configurator.app.premises import now, premises
from configurator.app.view_models.papers import PaperLine, paper_lines, why_no_pack
from configurator.build_spec.spec import Spec
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import assess_draft
from configurator.workflow.papers import (
    StoredDocument,
    list_documents,
    make_handover_pack,
    make_spec_sheet,
)
from configurator.workflow.premises import Premises

SHEET = (
    "Two or three pages for the customer: what is chosen, what it costs, how far it drives, and "
    "what is still open."
)
PACK = (
    "The folder for the owner: how to drive, charge and care for this very vehicle, its safety "
    "texts and the emergency sheet. Until the finished vehicle is measured each page says draft."
)
Maker = Callable[[Premises, str, datetime], StoredDocument]


def show() -> None:
    """Lay out the downloads of the build in the address."""
    reference = session.build_reference()
    if reference is None:
        frame.no_build_named()
        return
    draft = read_draft(premises(), reference)
    spec = assess_draft(premises(), draft, ()).spec
    _head(spec)
    frame.show_notices()
    left, right = st.columns(2, gap="medium")
    with left, st.container(key="spec-sheet"):
        _paper("Spec sheet", SHEET, "")
        _download("spec-sheet", "Download the spec sheet", make_spec_sheet, reference)
    with right, st.container(key="handover-pack"):
        missing = why_no_pack(spec)
        _paper("Handover pack", PACK, missing)
        _download(
            "handover-pack",
            "Download the handover pack",
            make_handover_pack,
            reference,
            disabled=bool(missing),
        )
    _made_so_far(paper_lines(list_documents(premises(), reference)))


def _head(spec: Spec) -> None:
    build = spec.build
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        frame.heading(
            "Papers", f"{spec.vehicle.label} for {build.customer.name} · {build.reference}"
        )
        if st.button("Back to the talk", key="to-talk"):
            session.go_to("consultation", build.reference)


def _paper(title: str, about: str, missing: str) -> None:
    why = tag("p", text(missing), class_="missing") if missing else ""
    st.html(tag("h2", text(title)) + tag("p", text(about)) + why)


def _download(
    name: str, label: str, make: Maker, reference: str, *, disabled: bool = False
) -> None:
    st.download_button(
        label,
        data=partial(_content, make, premises(), reference),
        file_name=f"{reference}-{name}.pdf",
        mime="application/pdf",
        key=f"download-{name}",
        on_click="ignore",
        type="primary",
        disabled=disabled,
    )


def _content(make: Maker, opened: Premises, reference: str) -> bytes:
    return make(opened, reference, now()).content


def _made_so_far(lines: tuple[PaperLine, ...]) -> None:
    st.html(tag("h2", text("Made so far")))
    if not lines:
        st.html(
            tag(
                "section",
                tag("p", text("No paper was made yet. What you download is kept and listed here.")),
                class_="empty small-empty",
            )
        )
        return
    rows = (
        tag(
            "tr",
            tag("td", text(line.name)),
            tag("td", text(line.made)),
            tag("td", tag("code", text(line.mark))),
        )
        for line in lines
    )
    titles = ("Paper", "Made", "Mark on its pages")
    head = tag("tr", *(tag("th", text(title), scope="col") for title in titles))
    st.html(tag("table", tag("thead", head), tag("tbody", *rows), class_="papers"))
