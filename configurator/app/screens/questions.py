"""The questions of one part of the talk, with their tiles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

import streamlit as st

from configurator.app import changes, session
from configurator.app.components.option_tiles import explain_tiles, option_tiles
from configurator.app.premises import premises
from configurator.app.view_models.acts import act_from
from configurator.app.view_models.tiles import GroupTiles, Talk, group_tiles, refused_tiles
from configurator.app.view_models.ways_out import compared_with, names_in, taken_words
from configurator.build_spec.standing import GroupState
from configurator.workflow.builds import Draft

FEW_REFUSED = 2
"""So many refused tiles in a part may say why without being asked."""


def show_questions(
    draft: Draft, groups: Sequence[GroupState], part_id: str, stages_reached: frozenset[str]
) -> None:
    """Lay out the tiles of a part as far as they are known; reasons may come later."""
    for tiles in _tiles(draft, groups, part_id, stages_reached, explained=False):
        key = f"tiles-{draft.build.reference}-{tiles.group_id}"
        raw = option_tiles(tiles, key=key, on_act=partial(session.queue_act, key))
        act = act_from(raw)
        if act is not None and session.counts_now(act):
            changes.perform(draft.build.reference, act)
            st.rerun()


def explain_questions(
    draft: Draft, groups: Sequence[GroupState], part_id: str, stages_reached: frozenset[str]
) -> None:
    """Hand reasons and ways out to the tiles that stand on the screen already."""
    tiles = _tiles(draft, groups, part_id, stages_reached, explained=True)
    explain_tiles(tiles, key=f"why-{draft.build.reference}")


def _tiles(
    draft: Draft,
    groups: Sequence[GroupState],
    part_id: str,
    stages_reached: frozenset[str],
    *,
    explained: bool,
) -> list[GroupTiles]:
    talk = Talk(
        reference=draft.build.reference,
        revision=draft.revision,
        names=names_in(groups),
        compared_with=compared_with(groups),
        opens_reasons=refused_tiles(groups, part_id) <= FEW_REFUSED,
        stages_reached=stages_reached,
    )
    said = _taken(draft, talk)
    house = {g.id: g.house_choice for g in premises().catalog.groups_for(draft.build.vehicle)}
    return [
        group_tiles(
            group,
            talk,
            house_choice=house[group.group_id],
            explained=explained,
            taken=said.get(group.group_id, ""),
        )
        for group in groups
        if group.part_id == part_id
    ]


def _taken(draft: Draft, talk: Talk) -> Mapping[str, str]:
    act = session.taken(draft.build.reference, draft.revision)
    if act is None:
        return {}
    return {act.group_id: taken_words((act.group_id, act.option_id), act.changes, talk.names)}
