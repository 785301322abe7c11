"""Which wishes to give up where not all can be met, and how near a build still comes to them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from configurator.build_spec.wish_engine import NO_BOUNDS, Bounds, WishEngine
from configurator.build_spec.wish_kinds import ELSEWHERE, bounds_of
from configurator.build_spec.wish_reach import best_reachable
from configurator.build_spec.wish_targets import GIVEN_UP, target_of
from configurator.catalog.models.build import Wish
from configurator.rules.problem import ConditionalLimit, Quantity

HAIR = 0.001
"""What a bound gives way beyond the value reached, so that its rounding cannot forbid it."""


@dataclass(frozen=True)
class GivenUp:
    """A smallest set of wishes of which giving up helps."""

    numbers: tuple[int, ...]
    """The places of the wishes, from 0."""
    reached: tuple[float | None, ...]
    """The best value of each one's fact; of the later ones beside the best of those before."""
    bounds: Bounds
    """What a build must keep to come so near."""


@dataclass(frozen=True)
class SmallestSets:
    """The sets of as few wishes as can be of which giving up one set helps."""

    every: tuple[tuple[int, ...], ...]
    """All of them, in the order of the wishes."""
    best: tuple[tuple[int, ...], ...]
    """Those whose best builds are the best, in the customer's order."""


def smallest_sets(wishing: WishEngine, most: int) -> SmallestSets:
    """List the smallest sets of wishes to give up.

    Parameters
    ----------
    wishing : WishEngine
        Some build keeps what must be kept, and none meets all wishes.
    most : int
        How many of the best are enough.
    """
    every = wishing.every_wish
    fewest = wishing.fewest_to_give_up()
    if fewest > 1:
        ranked = tuple(_ranked_sets(wishing, fewest))
        return SmallestSets(tuple(sorted(ranked)), ranked[:most])
    single = tuple((n,) for n in sorted(every) if wishing.can_hold(every - {n}))
    return SmallestSets(single, tuple(islice(_ranked_sets(wishing, fewest), most)))


def _ranked_sets(wishing: WishEngine, fewest: int) -> Iterator[tuple[int, ...]]:
    """Yield each set of so many wishes, the one that allows the best build first."""
    groups = [target.group for target in wishing.targets]
    given_up = Quantity(0, {(group, GIVEN_UP): 1 for group in groups})
    bounds = Bounds((ConditionalLimit("fewest", {}, given_up, fewest),))
    while (found := wishing.best_with_wishes(bounds)) is not None:
        numbers = tuple(n for n, group in enumerate(groups) if found[group] == GIVEN_UP)
        yield numbers
        same = Quantity(0, {(groups[number], GIVEN_UP): 1 for number in numbers})
        bounds += Bounds((ConditionalLimit("another set", {}, same, fewest - 1),))


def least_way_given(wishing: WishEngine, numbers: tuple[int, ...]) -> GivenUp:
    """Come as near to the wishes given up as the others let, the first named the nearest."""
    held = wishing.every_wish - set(numbers)
    book, bounds = wishing.compiled.book, NO_BOUNDS
    reached: list[float | None] = []
    for number in numbers:
        wish = wishing.targets[number].wish
        value = best_reachable(wishing.asking(held, bounds), book, wish)
        reached.append(value)
        if value is not None:
            bounds += bounds_of(target_of(_with_target(wish, value), ELSEWHERE, book))
    return GivenUp(numbers, tuple(reached), bounds)


def _with_target(wish: Wish, value: float) -> Wish:
    if wish.at_least is not None:
        return wish.model_copy(update={"at_least": value - HAIR})
    return wish.model_copy(update={"at_most": value + HAIR})
