"""Explain one option, or why some choices cannot stand together, without looking at the rest."""

from __future__ import annotations

from collections.abc import Collection

from configurator.build_spec.engines import Engines
from configurator.build_spec.group_states import option_state
from configurator.build_spec.limits_reached import limits_reached
from configurator.build_spec.sentences import contradiction_sentence
from configurator.build_spec.settle import settle
from configurator.build_spec.standing import OptionState
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog


def explain_option(
    catalog: Catalog, build: BuildInput, engines: Engines, group_id: str, option_id: str
) -> OptionState:
    """Tell how one option stands, with its reason and ways out where it is not possible.

    Parameters
    ----------
    catalog, build, engines
        As for `specify`.
    group_id, option_id : str
        An option that the vehicle is offered.
    """
    compiled = engines.compiled(catalog, build)
    group = compiled.offer.group_by_id[group_id]
    option = compiled.offer.option_by_pair[group_id, option_id]
    return option_state(compiled, settle(compiled, build), group, option, explain=True)


def why_not_together(
    catalog: Catalog, build: BuildInput, engines: Engines, group_ids: Collection[str]
) -> str:
    """Say why the choices in some groups cannot stand together; empty where they can.

    Parameters
    ----------
    catalog, build, engines
        As for `specify`.
    group_ids : collection of str
        Groups of which those without a choice that is offered are left aside.
    """
    compiled = engines.compiled(catalog, build)
    offered = compiled.offer.option_by_pair
    picks = {g: o for g, o in build.choices.items() if g in group_ids and (g, o) in offered}
    if compiled.engine.is_possible(picks):
        return ""
    conflict = compiled.engine.conflict(picks)
    return contradiction_sentence(compiled, conflict, limits_reached(compiled, conflict))
