"""What still can become of a draft: how many builds, and the one the workshop would choose."""

from __future__ import annotations

from configurator.build_spec.pipeline import outline
from configurator.build_spec.remaining import builds_left
from configurator.build_spec.settle import settle
from configurator.build_spec.spec import Spec
from configurator.rules.counting import Count
from configurator.workflow.builds import Draft
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises


def default_completion_of_draft(premises: Premises, draft: Draft) -> Spec | None:
    """Compute the build that comes out if the workshop chooses everything still open.

    Parameters
    ----------
    premises : Premises
        Catalog and engines.
    draft : Draft
        Usually with open groups.

    Returns
    -------
    Spec or None
        Its open groups filled with as many of the workshop's choices as fit, then at the least
        price; None where the choices contradict each other, so that no build has them.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    build = draft.build.model_copy(update={"house_choices_for_the_rest": True})
    spec = premises.outlines.get_or_make(
        build.model_dump_json(), lambda: outline(premises.catalog, build, premises.engines)
    )
    return spec if spec.is_complete else None


def builds_still_possible(premises: Premises, draft: Draft) -> Count:
    """Count the complete builds that have all the customer's choices.

    Parameters
    ----------
    premises, draft
        As for `default_completion_of_draft`; what the workshop would choose counts as open.

    Returns
    -------
    Count
        Exact where it can be had, else an upper bound.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    build = draft.build.model_copy(update={"house_choices_for_the_rest": False})

    def counted() -> Count:
        compiled = premises.engines.compiled(premises.catalog, build)
        return builds_left(compiled, settle(compiled, build))

    return premises.build_counts.get_or_make(build.model_dump_json(), counted)
