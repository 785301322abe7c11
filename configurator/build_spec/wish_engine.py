"""An engine that knows the wishes: each may be held or given up, like an option of a group."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.extremes import NOTHING, Asking
from configurator.build_spec.wish_targets import GIVEN_UP, HELD, Target, target_of
from configurator.catalog.models.build import BuildInput
from configurator.rules.engine import Engine
from configurator.rules.narrower import narrower_engine
from configurator.rules.problem import ConditionalLimit, Domain, LazyLimit, Quantity


@dataclass(frozen=True)
class Bounds:
    """Something more that a build must keep."""

    limits: tuple[ConditionalLimit, ...] = ()
    lazy_limits: tuple[LazyLimit, ...] = ()

    def __add__(self, other: Bounds) -> Bounds:
        """Ask for both."""
        return Bounds(self.limits + other.limits, self.lazy_limits + other.lazy_limits)


NO_BOUNDS = Bounds()


@dataclass(frozen=True)
class WishEngine:
    """All builds that keep rules, limits and what must be kept; which wishes hold is picked.

    One engine answers about any subset of the wishes, and what it learns of one serves the others.
    """

    compiled: Compiled
    build: BuildInput
    targets: tuple[Target, ...]
    engine: Engine

    @cached_property
    def kept(self) -> dict[str, str]:
        """The choices that must be kept."""
        return {group: self.build.choices[group] for group in self.build.must_keep}

    @property
    def every_wish(self) -> frozenset[int]:
        """The places of all wishes, from 0."""
        return frozenset(range(len(self.targets)))

    def picks(self, held: Collection[int]) -> dict[str, str]:
        """Pick what must be kept, and some wishes to be held; the others may be given up."""
        return {**self.kept, **{self.targets[number].group: HELD for number in held}}

    def asking(self, held: Collection[int], bounds: Bounds = NO_BOUNDS) -> Asking:
        """Ask about the builds that meet some wishes and keep more bounds.

        Nothing but groups of the offer is picked, so that the searches for a fact's extreme, which
        look their picks up there, can ask too.
        """
        forced = tuple(
            ConditionalLimit(HELD, {target.group: frozenset({GIVEN_UP})}, NOTHING, None)
            for target in (self.targets[number] for number in held)
        )
        return Asking(self._engine_within(bounds + Bounds(forced)), self.kept)

    def can_hold(self, held: Collection[int]) -> bool:
        """Tell whether some build meets all of some wishes."""
        return self.engine.is_possible(self.picks(held))

    def best(self, held: Collection[int], bounds: Bounds = NO_BOUNDS) -> dict[str, str] | None:
        """Find the best build that meets some wishes, by the customer's order.

        Returns
        -------
        dict of str to str or None
            Complete choices, or None when there is no such build.
        """
        found = self._engine_within(bounds).minimise(self.order, self.picks(held))
        return None if found is None else self.choices(found[1])

    def best_with_wishes(self, bounds: Bounds) -> dict[str, str] | None:
        """Find the best build whatever wishes it gives up, with what it does to each of them."""
        found = self._engine_within(bounds).minimise(self.order, self.kept)
        return None if found is None else found[1]

    def choices(self, found: Mapping[str, str]) -> dict[str, str]:
        """Leave the wishes out of what an engine found."""
        return {group.id: found[group.id] for group in self.compiled.offer.groups}

    @cached_property
    def order(self) -> Quantity:
        """The customer's order: preferences in turn, then the other choices, then the price.

        One whole number: each step outweighs all that follow it.
        """
        offer, price = self.compiled.offer, self.compiled.book.price
        others = {g: o for g, o in self._chosen().items() if g not in self.kept}
        wanted = [(p.group, p.option) for p in reversed(self.build.preferences)]
        departure = _span(price, self.compiled) + 1
        weights = dict(price.weights)

        def weigh(group_id: str, option_id: str, weight: int) -> None:
            for option in offer.group_by_id[group_id].options:
                if option.id != option_id:
                    pair = (group_id, option.id)
                    weights[pair] = weights.get(pair, 0) + weight

        for group_id, option_id in others.items():
            weigh(group_id, option_id, departure)
        for place, (group_id, option_id) in enumerate(wanted):
            weigh(group_id, option_id, departure * (len(others) + 1) * 2**place)
        return Quantity(price.constant, weights)

    def _chosen(self) -> dict[str, str]:
        offered = self.compiled.offer.option_by_pair
        return {g: o for g, o in self.build.choices.items() if (g, o) in offered}

    def fewest_to_give_up(self) -> int:
        """Count the fewest wishes that must be given up; some build keeps what must be kept."""
        given_up = Quantity(0, {(target.group, GIVEN_UP): 1 for target in self.targets})
        found = self.engine.extreme(given_up, self.kept)
        return 0 if found is None else found[0]

    def _engine_within(self, bounds: Bounds) -> Engine:
        if bounds == NO_BOUNDS:
            return self.engine
        return narrower_engine(self.engine, limits=bounds.limits, lazy_limits=bounds.lazy_limits)


def _span(quantity: Quantity, compiled: Compiled) -> int:
    """Bound how far a sum of two builds can lie apart."""
    weights = [
        [quantity.weights.get((group.id, option.id), 0) for option in group.options]
        for group in compiled.offer.groups
    ]
    return sum(max(of_group) - min(of_group) for of_group in weights)


def wish_engine(compiled: Compiled, build: BuildInput) -> WishEngine:
    """Make the engine that knows a build's wishes; they must be without faults."""
    targets = tuple(
        target_of(wish, number, compiled.book) for number, wish in enumerate(build.wishes, start=1)
    )
    return WishEngine(compiled, build, targets, _with_targets(compiled.engine, targets))


def _with_targets(engine: Engine, targets: Iterable[Target]) -> Engine:
    problem = engine.problem
    domains, limits = list(problem.domains), list(problem.conditional_limits)
    lazy_limits = list(problem.lazy_limits)
    for target in targets:
        domains.append(Domain(target.group, (HELD, GIVEN_UP)))
        limits += target.bounds_while_held
        lazy = target.lazy(while_held=True)
        if lazy is not None:
            lazy_limits.append(lazy)
    return Engine(
        replace(
            problem,
            domains=tuple(domains),
            conditional_limits=tuple(limits),
            lazy_limits=tuple(lazy_limits),
        )
    )
