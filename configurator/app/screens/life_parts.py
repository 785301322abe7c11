"""What the screens about a build's life share: tables of what differs, reasons beside warnings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import TypeVar

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.screens.tables import table
from configurator.app.view_models.faults import spoken
from configurator.app.view_models.life import Row, WarningToAnswer
from configurator.build_life.entries import WarningAnswered
from configurator.build_life.people import Person
from configurator.catalog.models.workshop import RoleId
from configurator.errors import ChoiceError, ConfiguratorError
from configurator.workflow.builds import Draft
from configurator.workflow.offered import lost_choices
from configurator.workflow.papers import list_documents
from configurator.workflow.rights import role_faults
from configurator.workflow.stored_document import StoredDocument

_Done = TypeVar("_Done")
LOOK = Path(__file__).parents[1] / "life.css"
REASONS = (
    "A check warns. Mend it, or let an engineer write why the work goes on; the reason is kept "
    "with the spec. It approves nothing: a competent person judges, by the codes of the place."
)
EARLIER = (
    "What was written for the issued spec stands there as it was typed. Read whether each reason "
    "still holds: the warning may name other figures now."
)


def show_rows(
    title: str, heads: Sequence[str], rows: Iterable[Row], *, are_amounts: bool = False
) -> None:
    """Lay out lines in words as a table; amounts stand flush right."""
    lines = (
        tag("tr", tag("th", text(row.cells[0]), scope="row"), *_cells(row.cells[1:]))
        for row in rows
    )
    look = "reckoned life amounts" if are_amounts else "reckoned life"
    st.html(table(title, heads, lines, look))


def ask_reasons(
    warnings: Sequence[WarningToAnswer], by: Person, earlier: Iterable[WarningAnswered] = ()
) -> dict[tuple[str, str], str]:
    """Ask an engineer why the work goes on in spite of each warning; inside a form.

    A reason written earlier stands in its field; it counts when an engineer sends it again.
    """
    if not warnings:
        return {}
    before = {(told.code, told.subject): told.reason for told in earlier}
    told = f"{REASONS} {EARLIER}" if any(each.key in before for each in warnings) else REASONS
    st.html(tag("p", text(told), class_="notice asked", role="note"))
    may_write = by.role == "engineer" or by.is_solo
    given = {}
    for number, warning in enumerate(warnings):
        st.html(
            tag("p", text(warning.sentence), " ", tag("span", text(warning.remedy), class_="how"))
        )
        written = st.text_input(
            f"Why the work goes on ({number + 1})",
            value=before.get(warning.key, ""),
            max_chars=1000,
            # By what it answers: a reason never moves beside another warning.
            key=f"reason-{'-'.join(warning.key)}",
            disabled=not may_write,
            placeholder="" if may_write else "An engineer writes it",
        )
        given[warning.key] = (written or "").strip()
    return {key: reason for key, reason in given.items() if reason} if may_write else {}


def do_calmly(
    act: Callable[[], _Done], said: str | Callable[[_Done], str | session.Notice]
) -> None:
    """Do something, then show the page anew, with what was done or what stands against it."""
    try:
        done = act()
    except ConfiguratorError as error:
        session.say("refused", spoken(error))
    else:
        told = said if isinstance(said, str) else said(done)
        tone, sentences = ("said", (told,)) if isinstance(told, str) else told
        session.say(tone, sentences)
    st.rerun()


def offer_document(reference: str, kind: str, label: str, *, is_main: bool = False) -> None:
    """Offer the last document of a kind that was made; nothing where there is none."""
    made = [found for found in list_documents(premises(), reference) if found.kind == kind]
    if made:
        st.download_button(
            plain_label(label),
            data=partial(_content, made[0]),
            file_name=made[0].name,
            mime="application/pdf",
            key=f"download-{kind}",
            on_click="ignore",
            type="primary" if is_main else "secondary",
        )


def may_act(by: Person, roles: Sequence[RoleId], step: str) -> bool:
    """Tell whether a step is of the role somebody wears; where it is not, say whose it is."""
    faults = role_faults(by, tuple(roles), step)
    for fault in faults:
        st.html(tag("p", text(f"{fault.what}. {fault.remedy}"), class_="missing"))
    return not faults


def who_acts(by: Person) -> None:
    """Say under whose name a step on this page is written down."""
    st.html(tag("p", text(f"What is done here is written down for {by.in_words}."), class_="small"))


def told_of_lost_choices(draft: Draft) -> bool:
    """Say which choices of a draft the catalog has lost, with the way to choose again."""
    lost = lost_choices(premises().catalog, draft.build)
    if lost:
        frame.notice("refused", spoken(ChoiceError(lost)))
        if st.button("Choose again in the talk", key="choose-again"):
            session.go_to("consultation", draft.build.reference)
    return bool(lost)


def show_faults_in_the_way(title: str, sentences: Sequence[str]) -> None:
    """List what stands against a step."""
    if sentences:
        items = (tag("li", text(sentence)) for sentence in sentences)
        st.html(tag("section", tag("h2", text(title)), tag("ul", *items), class_="faults"))


def _cells(cells: Iterable[str]) -> list[str]:
    return [tag("td", text(cell)) for cell in cells]


def _content(document: StoredDocument) -> bytes:
    return document.content
