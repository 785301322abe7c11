"""How near the rest of a reason lets a build come to each of its limits, and what weighs most."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.extremes import Asking
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.limit_forms import LimitForms
from configurator.build_spec.nearest_build import Nearest, fact_values, nearest_build
from configurator.build_spec.standing import LimitReached
from configurator.rules.engine import Engine
from configurator.rules.problem import Conflict, Implication

MOST_ITEMS = 3
STORED_DECIMALS = 3


def limits_reached(
    compiled: Compiled, conflict: Conflict, instead: Implication | None = None
) -> tuple[LimitReached, ...]:
    """Tell of each limit in a conflict the best that the rest of the conflict leaves.

    Parameters
    ----------
    compiled : Compiled
        The build's facts, rules and limits.
    conflict : Conflict
        A minimal one: without the limit, the rest of it is possible.
    instead : Implication, optional
        Part of the conflict beside the catalog's rules: that a group takes another option.

    Returns
    -------
    tuple of LimitReached
        In the order of the conflict.
    """
    by_id = {forms.limit.id: forms for forms in compiled.limits}
    told = (_remembered(compiled, conflict, by_id[name], instead) for name in conflict.limits)
    return tuple(reached for reached in told if reached is not None)


def _remembered(
    compiled: Compiled, conflict: Conflict, forms: LimitForms, instead: Implication | None
) -> LimitReached | None:
    key = (
        frozenset(conflict.picks),
        frozenset(conflict.implications),
        frozenset(conflict.limits),
        forms.limit.id,
        None if instead is None else instead.id,
    )
    return compiled.reached.get_or_make(
        key, lambda: _limit_reached(compiled, conflict, forms, instead)
    )


def _limit_reached(
    compiled: Compiled, conflict: Conflict, forms: LimitForms, instead: Implication | None
) -> LimitReached | None:
    limit = forms.limit
    engine = _engine_of_the_rest(compiled, conflict, limit.id, instead)
    found = nearest_build(compiled.book, Asking(engine, dict(conflict.picks)), limit)
    if found is None:
        return None
    return LimitReached(
        limit_id=limit.id,
        label=limit.label,
        bound=forms.bound,
        reached=round(found.value, STORED_DECIMALS),
        unit=FACT_LABELS[limit.limit].unit,
        heaviest=_heaviest(compiled, conflict, forms, found, instead),
    )


def _engine_of_the_rest(
    compiled: Compiled, conflict: Conflict, limit_id: str, instead: Implication | None
) -> Engine:
    """Make the engine of all builds that keep the other rules and limits of a conflict alone."""
    whole = compiled.engine.problem
    rules, limits = set(conflict.implications), set(conflict.limits) - {limit_id}
    key = (frozenset(rules), frozenset(limits), None if instead is None else instead.id)

    def make() -> Engine:
        kept = tuple(rule for rule in whole.implications if rule.id in rules)
        return Engine(
            replace(
                whole,
                implications=kept if instead is None else (*kept, instead),
                conditional_limits=tuple(x for x in whole.conditional_limits if x.id in limits),
                lazy_limits=tuple(x for x in whole.lazy_limits if x.id in limits),
            )
        )

    return compiled.reduced_engines.get_or_make(key, make)


def _heaviest(
    compiled: Compiled,
    conflict: Conflict,
    forms: LimitForms,
    found: Nearest,
    instead: Implication | None,
) -> tuple[tuple[str, float], ...]:
    """Name the options that a swap within their group would relieve the limit of most."""
    groups = _groups_named(compiled, conflict, instead)
    swaps = [
        (group.id, {**found.build, group.id: option.id})
        for group in compiled.offer.groups
        if group.id in groups
        for option in group.options
        if option.id != found.build[group.id]
    ]
    values = fact_values(compiled.book, forms.limit, [build for _, build in swaps])
    sign = 1 if forms.limit.at_most is not None else -1
    shares: dict[str, float] = {}
    for (group_id, _), value in zip(swaps, values, strict=True):
        if value is not None:
            relief = sign * (found.value - value)
            shares[group_id] = max(relief, shares.get(group_id, 0.0))
    heaviest = sorted(shares.items(), key=lambda pair: -pair[1])[:MOST_ITEMS]
    return tuple(
        (compiled.offer.option_by_pair[group_id, found.build[group_id]].label, round(share, 3))
        for group_id, share in heaviest
        if round(share, STORED_DECIMALS) > 0
    )


def _groups_named(
    compiled: Compiled, conflict: Conflict, instead: Implication | None
) -> frozenset[str]:
    return frozenset(_names(compiled, conflict, instead))


def _names(compiled: Compiled, conflict: Conflict, instead: Implication | None) -> Iterator[str]:
    """Name the groups that the conflict holds fast; in the others the best option stands."""
    yield from (group for group, _ in conflict.picks)
    rules = [r for r in compiled.engine.problem.implications if r.id in conflict.implications]
    for rule in rules if instead is None else [*rules, instead]:
        yield from rule.then
