"""What rules and limits say about one vehicle, each by its id, those that only warn among them."""

from __future__ import annotations

from configurator.build_spec.breaking_limit import BreakingLimit
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.falling_limit import FallingLimit
from configurator.build_spec.limit_forms import LimitForms
from configurator.rules.rulebook import LimitParts, Rulebook


def vehicle_rulebook(compiled: Compiled) -> Rulebook:
    """Gather the rules and limits of a compiled build.

    Parameters
    ----------
    compiled : Compiled
        Of any build of the vehicle.

    Returns
    -------
    Rulebook
        With each rule that speaks of what the vehicle is offered, and each limit of the vehicle.
    """
    problem = compiled.engine.problem
    return Rulebook(
        domains=problem.domains,
        rules={rule.id: rule for rule in problem.implications},
        limits={forms.limit.id: _parts(forms) for forms in compiled.limits},
    )


def _parts(forms: LimitForms) -> LimitParts:
    lazy = forms.lazy
    opposite = BreakingLimit(lazy) if isinstance(lazy, FallingLimit) else None
    return LimitParts(forms.by_region, lazy, opposite, forms.limit.severity == "blocks")
