"""The list of builds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, cast

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import tag, text
from configurator.app.premises import now, premises
from configurator.app.view_models.builds import BuildCard, build_cards
from configurator.workflow.waiting import what_waits

EVERYBODY = "Everybody"
WAYS: dict[session.PageName, str] = {
    "quotation": "Quotation of",
    "sign-off": "Sign-off of",
    "changes": "Changes of",
    "handover": "Handover of",
    "as-built": "As built:",
    "consultation": "Talk about",
    "papers": "Papers of",
}
"""The pages on which something can wait, with what leads to them."""
ALWAYS: tuple[session.PageName, ...] = ("consultation", "papers")


def show() -> None:
    """Lay out the list with its search, or what to do when there is nothing to list."""
    _head()
    frame.show_notices()
    with st.container(key="search", horizontal=True, vertical_alignment="bottom"):
        wanted = st.text_input(
            "Search by customer, vehicle or reference",
            placeholder="For example a name, or B-0007",
            max_chars=100,
        )
        roles = {role.label: role.id for role in premises().catalog.workshop.roles}
        for_whom = st.selectbox("What waits for", (EVERYBODY, *roles), key="for-whom")
    found = what_waits(
        premises(),
        now().date(),
        search=(wanted or "").strip(),
        role=roles.get(for_whom),
    )
    if found:
        _some(build_cards(found[: session.rows_shown()]), more=len(found) - session.rows_shown())
    elif for_whom != EVERYBODY:
        st.html(tag("p", text("Nothing waits for this role here."), class_="lead"))
    elif wanted and wanted.strip():
        _nothing_found(wanted.strip())
    else:
        _empty()


def _head() -> None:
    with st.container(key="page-head", horizontal=True, vertical_alignment="center"):
        frame.heading("Builds", "Every vehicle in talk, from the first question on.")
        if st.button("Start an enquiry", type="primary", key="start-enquiry"):
            session.go_to("enquiry")


def _some(cards: Sequence[BuildCard], *, more: int) -> None:
    for card in cards:
        _row(card)
    if more > 0 and st.button(f"Show more ({more} are left)", key="more-builds"):
        session.show_more_rows()
        st.rerun()


def _row(card: BuildCard) -> None:
    with st.container(key=f"build-{card.reference}", horizontal=True, vertical_alignment="center"):
        state = "state settled" if card.is_settled else "state"
        st.html(
            tag("h2", text(card.customer))
            + tag("p", text(f"{card.vehicle} · {card.reference}"))
            + tag("p", tag("span", text(card.state), class_=state), " ", text(card.changed))
            + tag("ul", *(tag("li", text(line.words)) for line in card.waiting), class_="waiting"),
        )
        _ways(card)


def _ways(card: BuildCard) -> None:
    """Lay out the ways to its pages: first to where the first thing that waits is done."""
    first = next((line.page for line in card.waiting), "")
    with st.container(key=f"ways-{card.reference}"):
        offered = [page for page in WAYS if page == first or page in ALWAYS]
        for page in sorted(offered, key=lambda page: page != first):
            _link(page, f"{WAYS[page]} {card.reference}", card.reference)


def _link(name: session.PageName, label: str, reference: str) -> None:
    st.page_link(cast("Any", session.page(name)), label=label, query_params={"build": reference})


def _nothing_found(wanted: str) -> None:
    st.html(
        tag(
            "section",
            tag("h2", text("No build answers to that")),
            tag(
                "p", text(f"Nothing was found for “{wanted}”. Try a part of the name, or clear it.")
            ),
            class_="empty",
        )
    )


def _empty() -> None:
    introduction = (
        "An enquiry is the start of a build: who asks, and for which vehicle. The talk follows, "
        "and everything chosen in it is kept at once."
    )
    with st.container(key="empty", horizontal_alignment="center"):
        st.html(
            tag(
                "section",
                tag("h2", text("No vehicle is in talk yet")),
                tag("p", text(introduction)),
                class_="empty",
            )
        )
        if st.button("Start the first enquiry", key="start-first-enquiry"):
            session.go_to("enquiry")
