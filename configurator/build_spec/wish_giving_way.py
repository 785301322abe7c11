"""Which wishes to give up where not all can be met, and how near a build still comes to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from configurator.build_spec.wish_engine import NO_BOUNDS, Bounds, WishEngine
from configurator.build_spec.wish_kinds import ELSEWHERE, bounds_of
from configurator.build_spec.wish_reach import best_reachable
from configurator.build_spec.wish_targets import target_of
from configurator.catalog.models.build import Wish

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


def smallest_sets(wishing: WishEngine) -> list[GivenUp]:
    """List every set of as few wishes as can be of which giving up one set helps.

    Parameters
    ----------
    wishing : WishEngine
        Some build keeps what must be kept, and none meets all wishes.
    """
    fewest = wishing.fewest_to_give_up()
    return [
        _least_way_given(wishing, numbers)
        for numbers in combinations(sorted(wishing.every_wish), fewest)
        if wishing.can_hold(wishing.every_wish - set(numbers))
    ]


def _least_way_given(wishing: WishEngine, numbers: tuple[int, ...]) -> GivenUp:
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


def best_first(wishing: WishEngine, sets: Sequence[GivenUp]) -> list[GivenUp]:
    """Order sets by the best build that each allows, in the customer's order."""

    def rank(given_up: GivenUp) -> int:
        best = wishing.best(wishing.every_wish - set(given_up.numbers))
        return 0 if best is None else wishing.order.of(best)

    return sorted(sets, key=rank)
