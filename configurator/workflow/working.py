"""Work out a figure of a draft, step by step, when somebody asks for it."""

from __future__ import annotations

from configurator.build_spec.derivation import Derivation
from configurator.build_spec.derivations.explain import Key, derivable, derive
from configurator.catalog.models.rule import FactName
from configurator.workflow.builds import Draft
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises


def figures_to_work_out(premises: Premises, draft: Draft) -> tuple[Key, ...]:
    """List the facts of a draft by topic; while choices are open, of its default completion.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    return derivable(premises.catalog, draft.build, premises.engines)


def work_out(
    premises: Premises, draft: Draft, name: FactName, case: str | None
) -> Derivation | None:
    """Work out one fact of a draft; None where what is fitted has no such fact.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    return derive(premises.catalog, draft.build, premises.engines, name, case)
