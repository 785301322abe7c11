"""Weights, for workshop and customer: from empty to fully laden, with limits and a drawing."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.screens.build_page import show_computed
from configurator.app.screens.how_link import how_link
from configurator.app.screens.tables import table, verdict
from configurator.app.view_models.weights import (
    AXLE_HEADS,
    LOADING_HEADS,
    MASS_HEADS,
    CheckRow,
    WeightsPage,
    weights_page,
    why_no_weights,
)
from configurator.build_spec.spec import Spec
from configurator.build_spec.weight_words import give_or_take_words, weigh_words
from configurator.drawings.shapes import Drawing
from configurator.drawings.svg import to_svg

LOOK = Path(__file__).parents[1] / "weights.css"
CHECK_HEADS = ("Limit", "Value", "Bound", "Verdict")

HAZARD = "Warning. An overloaded axle, tyre or wheel fails without a warning on the road."
CONSEQUENCE = "People in the vehicle and around it may be killed or badly hurt."
AVOID = (
    "Carry no more than the least limit allows. Lift the vehicle at its lifting points alone, on "
    "stands made for its mass. A competent person measures the height of the centre of gravity and "
    "sets the brakes."
)


def show() -> None:
    """Lay out the weights of the build in the address."""
    show_computed("Weights", look=LOOK, meanwhile="Computing the weights …", lay_out=_show_weights)


def _show_weights(spec: Spec) -> None:
    st.html(_caution(spec))
    missing = why_no_weights(spec)
    if missing:
        st.html(tag("p", text(missing), class_="missing"))
        return
    _show_page(weights_page(spec), give_or_take_words(spec.weights))


def _show_page(page: WeightsPage, give_or_take: str) -> None:
    st.html(tag("p", text(page.in_brief), class_="weights-brief"))
    stages = _table("From empty to fully laden", LOADING_HEADS, page.loadings, "stages")
    said = tag("p", text(page.may_carry)) + tag("p", text(page.change))
    sure = f"{give_or_take} Heights are above the ground."
    st.html(stages + said + tag("p", text(sure), class_="small"))
    axles = _table("What limits each axle", AXLE_HEADS, page.axles, "stages")
    st.html(axles + tag("p", text(page.speeds)))
    checks = map(_check, page.checks)
    st.html(table("Weights against their limits", CHECK_HEADS, checks, "reckoned weights checks"))
    st.html(tag("h2", text("Where the masses are")))
    with st.container(key="mass-views"):
        for drawing in (*page.views, page.key):
            _picture(drawing)
    with st.expander("What each number is"):
        st.html(_table("", MASS_HEADS, page.masses, "masses"))


def _caution(spec: Spec) -> str:
    weigh = f"These figures are computed and are no approval: {weigh_words(spec.weights)}."
    return tag(
        "section",
        tag("p", tag("strong", text(HAZARD))),
        tag("p", text(CONSEQUENCE)),
        tag("p", text(f"{weigh} {AVOID}")),
        class_="notice asked weights-caution",
        role="note",
    )


def _picture(drawing: Drawing) -> None:
    st.image(to_svg(drawing), alt=f"{drawing.title}. {drawing.description}", width="stretch")


def _table(title: str, heads: Sequence[str], rows: Sequence[Sequence[str]], look: str) -> str:
    lines = (
        tag("tr", tag("th", text(row[0]), scope="row"), *(tag("td", text(c)) for c in row[1:]))
        for row in rows
    )
    return table(title, heads, lines, f"reckoned weights {look}")


def _check(row: CheckRow) -> str:
    return tag(
        "tr",
        tag("th", text(row.label), tag("span", text(row.why), class_="how"), scope="row"),
        tag("td", text(row.value), how_link(row.label, row.worked_out)),
        tag("td", text(row.bound)),
        tag("td", verdict(row.verdict, row.verdict_words)),
    )
