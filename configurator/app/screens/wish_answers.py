"""The answer to the wishes: complete builds side by side, and what would have to give way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from configurator.app import frame, session, wish_changes
from configurator.app.markup import items, plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.view_models.wish_answers import (
    BuildCard,
    FigureLine,
    MissedLine,
    PickLine,
    answer_heading,
    build_cards,
    give_up_lines,
    missed_lines,
)
from configurator.app.view_models.wish_facts import WishableFact
from configurator.app.view_models.wish_list import with_wish
from configurator.build_spec.wish_answer import WishAnswer
from configurator.workflow.builds import Draft
from configurator.workflow.wishes import wishes_answered

LOOKING = "Looking for the best builds …"
GIVE_UP = "It is enough to give up this:"
GIVE_UP_ONE = "It is enough to give up one of these:"
EASE = "Or let one give way, by the least that helps:"
NEAREST = "The builds that give up the fewest"
TAKEN = "The build is taken into the talk. “Undo last change” takes it back in one click."


def show_answer(draft: Draft, facts: Sequence[WishableFact]) -> None:
    """Lay out the best builds or, when not all wishes can be met, what could give way."""
    with st.spinner(LOOKING):
        answer = wishes_answered(premises(), draft)
    with st.container(key="wish-answer"):
        st.html(
            tag(
                "h2",
                text(answer_heading(answer, draft.build)),
                data_all_met="yes" if answer.all_met else "no",
                data_revision=draft.revision,
                aria_live="polite",
            )
        )
        if answer.must_keeps_in_the_way:
            frame.notice("asked", (answer.must_keeps_in_the_way,))
        if not answer.all_met:
            with st.container(key="give-way"):
                _what_could_give_way(draft, answer, facts)
        cards = build_cards(answer, draft.build, premises().catalog, facts)
        if cards and not answer.all_met:
            st.html(tag("h2", text(NEAREST)))
        for column, card in zip(st.columns(3, gap="medium"), cards, strict=False):
            with column, st.container(key=f"wish-card-{card.key}"):
                _card(draft, card)


def take(draft: Draft, choices: Mapping[str, str]) -> None:
    """Take a build into the talk and go there, where it can be undone."""
    if wish_changes.take(draft, choices):
        session.say("said", (TAKEN,))
        session.go_to("consultation", draft.build.reference)
    st.rerun()


def _what_could_give_way(draft: Draft, answer: WishAnswer, facts: Sequence[WishableFact]) -> None:
    lots = give_up_lines(answer, facts)
    if lots:
        lead = GIVE_UP_ONE if len(lots) > 1 else GIVE_UP
        st.html(tag("p", text(lead)) + items((text(lot) for lot in lots), "give-up"))
    lines = missed_lines(answer, facts)
    if lines:
        st.html(tag("p", text(EASE)))
    for line in lines:
        _missed(draft, line)


def _missed(draft: Draft, line: MissedLine) -> None:
    with st.container(key=f"missed-{line.key}", horizontal=True, vertical_alignment="center"):
        st.html(tag("h3", text(line.heading)))
        if st.button(plain_label(line.button), key=f"ease-{line.key}"):
            wish_changes.wish_for_these(draft, with_wish(draft.build.wishes, line.instead))
            st.rerun()


def _card(draft: Draft, card: BuildCard) -> None:
    given_up = items((text(sentence) for sentence in card.gives_up), "gives-up")
    st.html(
        tag("h3", text(card.heading))
        + tag("p", text(card.price), class_="amount")
        + tag("dl", *(_figure(line) for line in card.figures), class_="figures wished")
        + (tag("p", text(card.preferences), class_="preferred") if card.preferences else "")
        + (tag("h4", text("What it gives up")) + given_up if card.gives_up else "")
        + (tag("p", text(card.changes), class_="small") if card.changes else "")
        + _picks(card.picks)
    )
    if st.button(
        plain_label(f"Take this build: {card.heading}"),
        key=f"short-take-{card.key}",
        disabled=card.is_chosen_now,
    ):
        take(draft, card.choices)


def _figure(line: FigureLine) -> str:
    state = "met" if line.is_met else "missed"
    sign = "✓" if line.is_met else "✗"
    target = (
        tag("dd", text(f"{sign} wished {line.target}: {line.standing}"), class_=f"target {state}")
        if line.target
        else ""
    )
    return tag(
        "div", tag("dt", text(line.label)), tag("dd", text(line.value), class_="value"), target
    )


def _picks(picks: Sequence[PickLine]) -> str:
    lines = (
        tag(
            "li",
            tag("span", text(pick.group), class_="small"),
            tag("span", text(pick.option)),
            tag("span", text(pick.change), class_="small") if pick.change else "",
        )
        for pick in picks
    )
    title = tag("summary", text(f"All {len(picks)} choices of this build"))
    return tag("details", title, tag("ul", *lines), class_="open-choices")
