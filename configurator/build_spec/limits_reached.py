"""How near the choices and rules of a reason let a build come to its limit, and what weighs."""

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

MOST_ITEMS = 2
UNIT_OF_ITEMS = "kg"
"""Only a mass can be laid at the door of an option in words that a customer has a use for."""

STORED_DECIMALS = 3


def limits_reached(
    compiled: Compiled, conflict: Conflict, instead: Implication | None = None
) -> tuple[LimitReached, ...]:
    """Tell of the one limit of a conflict the best that its choices and rules leave.

    Of several limits nothing is told. A conflict is minimal: under its choices and rules alone
    some build keeps any one of them, so that none is missed unless the others bind too, and a
    number of that kind would read as though the limit by itself were out of reach.

    Parameters
    ----------
    compiled : Compiled
        The build's facts, rules and limits.
    conflict : Conflict
        A minimal one: without any one member, the rest of it is possible.
    instead : Implication, optional
        Part of the conflict beside the catalog's rules: that a group takes another option.

    Returns
    -------
    tuple of LimitReached
        Empty unless the conflict has just one limit, with a fact that some build has.
    """
    if len(conflict.limits) != 1:
        return ()
    (forms,) = (forms for forms in compiled.limits if forms.limit.id in conflict.limits)
    reached = _remembered(compiled, conflict, forms, instead)
    return () if reached is None else (reached,)


def _remembered(
    compiled: Compiled, conflict: Conflict, forms: LimitForms, instead: Implication | None
) -> LimitReached | None:
    key = (
        frozenset(conflict.picks),
        frozenset(conflict.implications),
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
    engine = _engine_of_the_rules(compiled, conflict, instead)
    found = nearest_build(compiled.book, Asking(engine, dict(conflict.picks)), limit)
    if found is None:
        return None
    unit = FACT_LABELS[limit.limit].unit
    return LimitReached(
        limit_id=limit.id,
        label=limit.label,
        bound=forms.bound,
        reached=round(found.value, STORED_DECIMALS),
        unit=unit,
        heaviest=(
            _heaviest(compiled, conflict, forms, found, instead) if unit == UNIT_OF_ITEMS else ()
        ),
    )


def _engine_of_the_rules(
    compiled: Compiled, conflict: Conflict, instead: Implication | None
) -> Engine:
    """Make the engine of all builds that keep the rules of a conflict, and no limit."""
    whole = compiled.engine.problem
    rules = frozenset(conflict.implications)
    key = (rules, None if instead is None else instead.id)

    def make() -> Engine:
        kept = tuple(rule for rule in whole.implications if rule.id in rules)
        return Engine(
            replace(
                whole,
                implications=kept if instead is None else (*kept, instead),
                conditional_limits=(),
                lazy_limits=(),
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
