"""The consultation: the talk in its parts, with what it comes to always in sight."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from configurator.app import changes, frame, session
from configurator.app.components.talk_steps import talk_steps_row
from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.screens.questions import explain_questions, show_questions
from configurator.app.screens.summary import show_summary
from configurator.app.screens.talk_head import do_what_was_pressed, show_head
from configurator.app.view_models.life import late_change_words
from configurator.app.view_models.talk import (
    current_part,
    is_still_checked,
    part_after,
    parts_with_questions,
    talk_steps,
)
from configurator.build_life.entries import StageReached
from configurator.build_life.life import Life
from configurator.build_life.stage_gate import stage_now
from configurator.build_spec.days import day_in_words
from configurator.build_spec.standing import GroupState
from configurator.catalog.models.workshop import TalkPart
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import how_options_stand
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.known_at_once import how_options_stand_so_far
from configurator.workflow.lives import life_of
from configurator.workflow.survey import lost_lines

PROMISED = (
    "Spec {letter} is issued. What is picked here changes nothing in it until a change order is "
    "written and signed by both sides."
)
HANDED_OVER = (
    "The vehicle was handed over on {on}. What is picked here changes nothing for its owner: later "
    "work is a build of its own."
)
MEASURED = "What was measured on the vehicle stands under “As built”; figures here are computed."
WORKING = "Working out what is possible, and the figures …"


def show() -> None:
    """Lay out the talk about the build in the address."""
    reference = session.build_reference()
    if reference is None:
        frame.no_build_named()
        return
    for act in session.take_acts():
        changes.perform(reference, act)
    do_what_was_pressed(reference)
    draft = read_draft(premises(), reference)
    if lost_lines(premises(), draft):
        session.go_to("survey", reference)
    catalog = premises().catalog
    asked = (group.part for group in catalog.groups_for(draft.build.vehicle))
    parts = parts_with_questions(catalog.workshop.talk, asked)
    with st.spinner(WORKING):
        _talk(draft, parts, current_part(parts, session.part_id()))


def _talk(draft: Draft, parts: tuple[TalkPart, ...], part: TalkPart) -> None:
    groups = how_options_stand_so_far(premises(), draft)
    show_head(draft, groups)
    life = life_of(premises(), draft.build.reference)
    reached = _stages_reached(life)
    _what_is_promised(life)
    _steps(parts, groups, part)
    with st.container(key="talk"):
        talk, beside = st.columns([1.85, 1], gap="large")
        # What is possible comes first: somebody may go on picking while the figures are worked out.
        with talk:
            st.html(tag("h2", text(part.label)) + tag("p", text(part.introduction), class_="lead"))
            show_questions(draft, groups, part.id, reached)
            _next(parts, part)
        with beside:
            if is_still_checked(groups):
                # What is known is on screen; the run that follows shows every answer.
                how_options_stand(premises(), draft)
                st.rerun()
            show_summary(premises().catalog.vehicle_by_id[draft.build.vehicle], groups, draft)
    explained = how_options_stand(premises(), draft, (part.id,))
    explain_questions(draft, explained, part.id, reached)


def _what_is_promised(life: Life) -> None:
    """Say that a spec is issued: what is picked now is a change to be priced and signed."""
    issued = life.issued
    if issued is None:
        return
    if life.handed_over is not None:
        told = [HANDED_OVER.format(on=day_in_words(life.handed_over.handed_over_on))]
    else:
        stages = catalog_of(premises(), issued.catalog_sha256).stages
        late = late_change_words(stage_now(life, stages))
        told = [PROMISED.format(letter=issued.letter), late]
    if life.records:
        told.append(MEASURED)
    st.html(tag("p", text(" ".join(filter(None, told))), class_="notice asked"))


def _stages_reached(life: Life) -> frozenset[str]:
    """Give the labels of the stages behind the vehicle, as the questions name them."""
    reached = {body.stage_id for body in life.of(StageReached)}
    stages = premises().catalog.stages
    return frozenset(stage.label for stage in stages if stage.id in reached)


def _steps(parts: tuple[TalkPart, ...], groups: Sequence[GroupState], part: TalkPart) -> None:
    wanted = talk_steps_row(talk_steps(parts, groups, part.id), key="talk-steps")
    if isinstance(wanted, str) and wanted != part.id and wanted in {known.id for known in parts}:
        session.go_to_part(wanted)
        st.rerun()


def _next(parts: tuple[TalkPart, ...], part: TalkPart) -> None:
    following = part_after(parts, part.id)
    if following is None:
        return
    if st.button(f"Next: {plain_label(following.label)}", key="next-part"):
        session.go_to_part(following.id)
        st.rerun()
