"""How many groups of a build are still open, for the list of builds."""

from __future__ import annotations

from configurator.build_spec.settle import settle
from configurator.catalog.models.build import BuildInput, Donor
from configurator.workflow.premises import Premises


def count_open_groups(premises: Premises, build: BuildInput) -> int:
    """Count the groups for which neither the customer, the rules nor the house has chosen.

    Parameters
    ----------
    premises : Premises
        Catalog and engines.
    build : BuildInput
        Of a vehicle in the catalog. Its survey, discount and weighed donor are left aside, so that
        a long list shares one compiled engine for each vehicle.

    Returns
    -------
    int
        0 when every group is settled.
    """
    groups = premises.catalog.groups_for(build.vehicle)
    missing = sum(group.id not in build.choices for group in groups)
    if missing == 0:
        return 0
    key = (build.vehicle, frozenset(build.choices.items()), build.house_choices_for_the_rest)
    return premises.open_counts.get_or_make(key, lambda: _count(premises, build))


def _count(premises: Premises, build: BuildInput) -> int:
    vat = premises.catalog.workshop.vat
    plain = build.model_copy(
        update={
            "priced_on": max(rate.valid_from for rate in vat),
            "survey": (),
            "discount": None,
            "donor": Donor(),
        }
    )
    compiled = premises.engines.compiled(premises.catalog, plain)
    return len(compiled.offer.groups) - len(settle(compiled, plain).choices)
