"""Kinds of builds beside the best one: the cheapest, the one that goes furthest, the soonest."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.offer import effect_vector
from configurator.build_spec.sentences import in_a_sentence, listed
from configurator.build_spec.wish_engine import NO_BOUNDS, Bounds, WishEngine
from configurator.build_spec.wish_reach import best_reachable
from configurator.build_spec.wish_targets import Target, target_of
from configurator.catalog.models.build import Wish
from configurator.catalog.models.group import Group
from configurator.rules.problem import ConditionalLimit, Quantity

APART_IN = 2
"""Groups that matter in which two builds of different kinds differ at least."""

RANGE_STEP_KM = 1.0
"""A kilometre more is not worth another build."""

ELSEWHERE = 0
"""Number of a target that is no wish of the customer's."""


@dataclass(frozen=True)
class KindOfBuild:
    """Complete choices with what tells them from the others."""

    choices: dict[str, str]
    differs_by: str


def telling_groups(compiled: Compiled) -> tuple[Group, ...]:
    """List the groups that make another kind of build: more than a colour, a part or its work."""
    return tuple(
        group
        for group in compiled.offer.groups
        if group.shown_as != "colours" and len({_nature(group, o.id) for o in group.options}) > 1
    )


def _nature(group: Group, option_id: str) -> str:
    option = next(option for option in group.options if option.id == option_id)
    return repr((option.fits, effect_vector(option.effects), option.puts_in, option.takes_out))


def other_kinds(
    wishing: WishEngine,
    held: Collection[int],
    given: Sequence[KindOfBuild],
    most: int,
    bounds: Bounds = NO_BOUNDS,
) -> list[KindOfBuild]:
    """Add builds of other kinds to those given, until there are enough.

    Each differs from all others in at least two groups that matter. What a kind is named by holds
    among all builds considered, not only among those told.

    Parameters
    ----------
    wishing : WishEngine
        The builds and the customer's order among them.
    held : collection of int
        Wishes that all builds meet.
    given : sequence of KindOfBuild
        The builds told already.
    most : int
        How many builds are enough.
    bounds : Bounds
        What else all builds keep.
    """
    told = list(given)
    groups = telling_groups(wishing.compiled)
    for name, find in _KINDS.items():
        if len(told) >= most:
            return told
        kind = find(wishing, held, bounds)
        if kind is None or any(_is_of(kind, build.choices) for build in told):
            continue
        found = wishing.best(held, bounds + kind + _apart(groups, told))
        if found is not None:
            told.append(KindOfBuild(found, name.format(case=_winter(wishing))))
    while len(told) < most:
        found = wishing.best(held, bounds + _apart(groups, told))
        if found is None:
            break
        told.append(KindOfBuild(found, _other_parts(wishing.compiled, groups, told[0], found)))
    return told


def _apart(groups: Sequence[Group], told: Sequence[KindOfBuild]) -> Bounds:
    """Ask for other options than each build told has, in at least two groups that matter."""
    return Bounds(
        tuple(
            ConditionalLimit(
                "another kind",
                {},
                Quantity(0, {(group.id, build.choices[group.id]): 1 for group in groups}),
                len(groups) - APART_IN,
            )
            for build in told
        )
    )


def _is_of(kind: Bounds, choices: Mapping[str, str]) -> bool:
    told = all(limit.keeps(dict(choices)) for limit in kind.limits)
    return told and all(lazy.broken_by(choices) is None for lazy in kind.lazy_limits)


def _other_parts(
    compiled: Compiled, groups: Sequence[Group], first: KindOfBuild, choices: Mapping[str, str]
) -> str:
    options = compiled.offer.option_by_pair
    other = [
        f"{options[group.id, choices[group.id]].label} ({in_a_sentence(group.label)})"
        for group in groups
        if choices[group.id] != first.choices[group.id]
    ]
    return f"another way, with {listed(other[:3])}"


def _winter(wishing: WishEngine) -> str:
    return in_a_sentence(harder_headline_case(wishing.compiled.catalog).label)


def _cheapest(wishing: WishEngine, held: Collection[int], bounds: Bounds) -> Bounds | None:
    price = wishing.compiled.book.price
    found = wishing.asking(held, bounds).least(price, {})
    return None if found is None else Bounds((ConditionalLimit("price", {}, price, found[0]),))


def _furthest(wishing: WishEngine, held: Collection[int], bounds: Bounds) -> Bounds | None:
    case = harder_headline_case(wishing.compiled.catalog)
    wish = Wish(fact="range_low_km", case=case.id, at_least=0.0)
    reached = best_reachable(wishing.asking(held, bounds), wishing.compiled.book, wish)
    if reached is None:
        return None
    return bounds_of(
        target_of(
            wish.model_copy(update={"at_least": reached - RANGE_STEP_KM}),
            ELSEWHERE,
            wishing.compiled.book,
        )
    )


def _soonest(wishing: WishEngine, held: Collection[int], bounds: Bounds) -> Bounds | None:
    wish = Wish(fact="handover_weeks", at_most=0.0)
    reached = best_reachable(wishing.asking(held, bounds), wishing.compiled.book, wish)
    if reached is None:
        return None
    # A hair more than the weeks told, since a day is no whole part of a week.
    return bounds_of(
        target_of(
            wish.model_copy(update={"at_most": reached + 0.01}), ELSEWHERE, wishing.compiled.book
        )
    )


def bounds_of(target: Target) -> Bounds:
    """Ask for a target without leaving a choice to give it up."""
    lazy = target.lazy(while_held=False)
    return Bounds(target.bounds, () if lazy is None else (lazy,))


_KINDS: dict[str, Callable[[WishEngine, Collection[int], Bounds], Bounds | None]] = {
    "the cheapest": _cheapest,
    "goes furthest, to the kilometre: {case}": _furthest,
    "ready soonest": _soonest,
}
