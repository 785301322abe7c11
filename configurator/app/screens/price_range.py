"""Price against winter range: a chart, and the same builds as a list to take one from."""

from __future__ import annotations

import streamlit as st

from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.screens.wish_answers import take
from configurator.app.view_models.wish_front import (
    FrontRow,
    front_builds,
    front_note,
    front_rows,
    wanted_on,
)
from configurator.build_spec.wish_answer import WishFront
from configurator.drawings.price_range_front import price_range_front
from configurator.drawings.svg import to_svg
from configurator.workflow.builds import Draft
from configurator.workflow.wishes import front_of_draft

COMPARING = "Comparing price and range …"


def show_front(draft: Draft) -> None:
    """Lay out the builds among which only price decides against winter range."""
    st.html(tag("h2", text("Price against winter range")))
    with st.spinner(COMPARING):
        front = front_of_draft(premises(), draft)
    st.html(tag("p", text(front_note(front)), class_="lead"))
    if not front.points:
        return
    with st.container(key="wish-front"):
        chart, beside = st.columns([1.25, 1], gap="large")
        with chart:
            _chart(draft, front)
        with beside, st.container(key="front-list"):
            for row in front_rows(front, draft.build):
                _row(draft, row)


def _chart(draft: Draft, front: WishFront) -> None:
    drawing = price_range_front(
        front_builds(front, draft.build),
        wanted_on(front, draft.build.wishes),
        case_label=front.case_label,
    )
    alt = f"{drawing.title}. {drawing.description} The list beside it holds the same builds."
    st.image(to_svg(drawing), alt=alt, width="stretch")


def _row(draft: Draft, row: FrontRow) -> None:
    with st.container(key=f"front-{row.key}", horizontal=True, vertical_alignment="center"):
        about = ", ".join(words for words in (row.label, row.standing) if words)
        st.html(
            tag(
                "p",
                tag("b", text(row.name), class_="disc"),
                tag("b", text(f"{row.price} · {row.range}")),
            )
            + tag("p", text(about), class_="small")
        )
        label = "Chosen now" if row.is_chosen_now else "Take"
        if st.button(
            plain_label(f"{label} {row.name}"),
            key=f"take-front-{row.key}",
            disabled=row.is_chosen_now,
        ):
            take(draft, row.choices)
