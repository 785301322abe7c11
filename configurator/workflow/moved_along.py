"""Which of the workshop's choices moved along with a pick, so that nobody has to look for them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from configurator.build_spec.settle import settle
from configurator.catalog.models.build import BuildInput
from configurator.workflow.builds import Draft
from configurator.workflow.premises import Premises


@dataclass(frozen=True)
class Moved:
    """A group that nobody picked in, and the options it had and has, by label."""

    group: str
    before: str
    after: str


def moved_along(
    premises: Premises, before: Draft, after: Draft, picked: Collection[str]
) -> tuple[Moved, ...]:
    """List the groups that the workshop or the rules filled otherwise after a pick.

    Parameters
    ----------
    premises : Premises
        Catalog and engines.
    before, after : Draft
        Of one build; the vehicle is in the catalog.
    picked : collection of str
        The groups that somebody picked in; what keeps the rest as ordered is written down too.

    Returns
    -------
    tuple of Moved
        Empty while the workshop does not choose the rest: what is open then shows as open.
    """
    if not before.build.house_choices_for_the_rest or not after.build.house_choices_for_the_rest:
        return ()
    was, now = _choices(premises, before.build), _choices(premises, after.build)
    return tuple(
        Moved(group.label, _label(premises, group.id, was), _label(premises, group.id, now))
        for group in premises.catalog.groups_for(after.build.vehicle)
        if group.id not in picked and was.get(group.id) != now.get(group.id)
    )


def _choices(premises: Premises, build: BuildInput) -> dict[str, str]:
    return settle(premises.engines.compiled(premises.catalog, build), build).choices


def _label(premises: Premises, group_id: str, choices: dict[str, str]) -> str:
    options = {option.id: option.label for option in premises.catalog.group_by_id[group_id].options}
    return options.get(choices.get(group_id, ""), "still open")
