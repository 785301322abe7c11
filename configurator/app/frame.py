"""What surrounds every screen: the look, the bar, notices, cautions, and calm words for faults."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, cast

import streamlit as st

from configurator.app import people, session
from configurator.app.markup import plain_label, tag, text
from configurator.app.view_models.faults import FaultLine, fault_lines
from configurator.catalog.models.workshop import RoleId, Workshop
from configurator.errors import ConfiguratorError

ICON = Path(__file__).with_name("static") / "icon.svg"
LOOKS = tuple(Path(__file__).with_name(name) for name in ("look.css", "fields.css"))
DEMONSTRATION = "Demonstration: invented workshop, vehicles and prices"
CAUTION = (
    "Figures are computed from the workshop’s data and bounded by what is still open. They prepare "
    "the work of competent people; they approve nothing. Licensed or competent persons and the "
    "authority decide, by the codes of the place."
)
UNEXPECTED = FaultLine(
    "",
    "Something went wrong that should not have. Everything chosen until now is saved.",
    "Load the page again. If it happens again, tell whoever looks after the tool: the details are "
    "in its log.",
    "",
)
LOG_OUT = (
    '<form class="way-out" action="/account/log-out" method="post">'
    '<button type="submit">Log out</button> <a href="/account/password">Change password</a></form>'
)
ALONE = (
    '<p class="small">The tool was opened for one person alone, and every signature says so. '
    "Nobody logs in until somebody has an account.</p>"
)
TONE_ROLES = {"said": "status", "asked": "status", "refused": "alert"}
_log = logging.getLogger(__name__)


def apply_look() -> None:
    """Dress the page."""
    for look in LOOKS:
        st.html(look)


def top_bar(workshop: Workshop) -> None:
    """Show whose tool this is and the ways to the other screens."""
    with st.container(key="top-bar", horizontal=True, vertical_alignment="center"):
        st.html(
            tag("p", text(workshop.name), tag("span", text(workshop.strapline)), class_="brand")
        )
        _link("builds", "Builds")
        _link("enquiry", "New enquiry")
        _who_acts()
    if workshop.is_invented:
        st.html(tag("p", text(DEMONSTRATION), class_="demonstration", role="note"))


def _who_acts() -> None:
    """Show who acts in which role; behind it the other roles they have, and the way out."""
    person, roles = people.acting(), people.roles_here()
    with st.popover(plain_label(person.in_words), key="who-acts"):
        if len(roles) > 1:
            _choose_role(person.role, roles)
        st.html(ALONE if person.is_solo else LOG_OUT)


def _choose_role(worn: RoleId, roles: Sequence[RoleId]) -> None:
    session.show_stored("role-worn", worn)
    chosen = st.radio(
        "Role worn now",
        roles,
        key="role-worn",
        format_func=lambda role: str(role).replace("-", " ").capitalize(),
    )
    if chosen != worn:
        people.wear(chosen)
        st.rerun()


def show_notices() -> None:
    """Say what happened since the last look, once."""
    for tone, sentences in session.take_notices():
        notice(tone, sentences)


def notice(tone: session.Tone, sentences: Sequence[str]) -> None:
    """Say sentences calmly; they may hold people's words."""
    lines = (tag("p", text(sentence)) for sentence in sentences)
    st.html(tag("div", *lines, class_=f"notice {tone}", role=TONE_ROLES[tone]))


def heading(title: str, beneath: str = "", reference: str = "") -> None:
    """Show the title of a screen; all may hold people's words, a reference is never broken."""
    named = (" · ", tag("span", text(reference), class_="unbroken")) if reference else ()
    lead = tag("p", text(beneath), *named, class_="lead") if beneath else ""
    st.html(tag("h1", text(title)) + lead)


def bottom() -> None:
    """Close the screen with the caution."""
    st.html(tag("p", text(CAUTION), class_="caution"))


def no_build_named() -> None:
    """Say that the address names no build, and where they are found."""
    line = FaultLine("", "The address names no build.", "Choose one from the list of builds.", "")
    show_faults("Which build is it about?", (line,))
    if st.button("To the list of builds", key="to-builds"):
        session.go_to("builds")


def calmly(title: str, show: Callable[[], None]) -> None:
    """Show something; whatever goes wrong is said in sentences and never as a traceback.

    Parameters
    ----------
    title : str
        Heads the faults, if there are any.
    show : callable
        Lays out a screen.
    """
    try:
        show()
    except ConfiguratorError as error:
        show_faults(title, fault_lines(error))
    except Exception:  # noqa: BLE001  whatever it is, the person at the screen gets calm words
        _log.exception("a screen failed")
        show_faults("This should not have happened", (UNEXPECTED,))


def show_faults(title: str, lines: tuple[FaultLine, ...]) -> None:
    """List faults with their remedies."""
    listed = (
        tag(
            "li",
            tag("p", text(line.where), class_="where") if line.where else "",
            tag("p", tag("strong", text(line.what)), " ", text(line.remedy)),
        )
        for line in lines
    )
    st.html(
        tag("section", tag("h2", text(title)), tag("ul", *listed), class_="faults", role="alert")
    )


def _link(name: session.PageName, label: str) -> None:
    st.page_link(cast("Any", session.page(name)), label=label)
