"""How many complete builds the choices leave."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import islice

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.falling_limit import FallingLimit
from configurator.build_spec.limit_forms import LimitForms, within
from configurator.build_spec.settle import Settled
from configurator.build_spec.slot_classes import corner_state, slot_regions
from configurator.rules.counting import Count, count_builds

WIDEST = 64
"""Combinations of components looked at before a limit counts as one that may be broken."""


def builds_left(compiled: Compiled, settled: Settled) -> Count:
    """Count the complete builds that have all the customer's picks and keep every rule and limit.

    Parameters
    ----------
    compiled : Compiled
        The build made ready for questions.
    settled : Settled
        The picks and what they leave; what the workshop would choose counts as open.

    Returns
    -------
    Count
        Exact where it can be had, else at most so many: options that no build has any more are
        left out even then.
    """
    if not settled.is_possible:
        return Count(0, is_exact=True)
    open_options = {
        group: frozenset(option for option, possible in options.items() if possible)
        for group, options in settled.available.items()
        if group not in settled.picks
    }
    picked = {group: frozenset({option}) for group, option in settled.picks.items()}
    breakable = tuple(
        forms.lazy
        for forms in compiled.limits
        if forms.limit.severity == "blocks"
        and forms.lazy is not None
        and _can_break(forms, {**open_options, **picked})
    )
    problem = replace(compiled.engine.problem, lazy_limits=breakable)
    return count_builds(problem, settled.picks, open_options)


def _can_break(forms: LimitForms, left: Mapping[str, frozenset[str]]) -> bool:
    """Tell whether even the worst of what is left keeps a limit, for each set of components."""
    lazy = forms.lazy
    if not isinstance(lazy, FallingLimit):
        return True
    regions = [*islice(slot_regions(lazy.on, left), WIDEST + 1)]
    if len(regions) > WIDEST:
        return True
    weights = lazy.mass_g.weights
    heaviest_g = lazy.mass_g.constant + sum(
        max(weights.get((group, option), 0) for option in options)
        for group, options in left.items()
    )
    worst = [
        corner_state(lazy.offer, {**left, **region}, heaviest_g, favourable=False)
        for region in regions
    ]
    return not all(
        value is None or within(forms.limit, value, forms.bound)
        for value in lazy.fact.evaluate(worst)
    )
