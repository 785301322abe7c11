"""What can be told of the options before every answer is there."""

from __future__ import annotations

from configurator.build_spec.pipeline import stand_so_far
from configurator.build_spec.standing import GroupState
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import how_options_stand
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises


def how_options_stand_so_far(premises: Premises, draft: Draft) -> tuple[GroupState, ...]:
    """Tell at once what is known of the options, to be on screen while the rest is worked out.

    Returns
    -------
    tuple of GroupState
        As `how_options_stand`, with None for an option whose answer is still to come. Where the
        workshop chooses the rest there is nothing to show before that is known.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    if draft.build.house_choices_for_the_rest:
        return how_options_stand(premises, draft)
    known = premises.standings.known((draft.build.model_dump_json(), frozenset()))
    return known or stand_so_far(premises.catalog, draft.build, premises.engines)
