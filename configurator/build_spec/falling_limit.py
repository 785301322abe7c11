"""A limit on a fact that falls with mass and effects, told to the engine one region at a time."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice

from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.drive_state import DriveState, drive_state
from configurator.build_spec.offer import Offer
from configurator.build_spec.slot_classes import (
    Dependence,
    Region,
    corner_state,
    distance_to_corner,
    slot_classes,
    slot_regions,
    slot_signature,
)
from configurator.catalog.models.group import Group
from configurator.rules.problem import ConditionalLimit, Quantity

SLOTS_KEPT = 2_000
STATES_KEPT = 12
"""Sets of components remembered, and states for each."""

WIDEST = 64
"""Combinations of components looked at before a region is left as wide as it is."""


@dataclass
class KeptStates:
    """States that keep the limit: so does any with the same components and no more of anything.

    Several threads may ask; what one forgets another asks anew.
    """

    keys: dict[object, Hashable] = field(default_factory=dict)
    """What is read of components, by all that are fitted."""
    _by_slots: dict[Hashable, tuple[DriveState, ...]] = field(default_factory=dict)

    def cover(self, key: Hashable, state: DriveState) -> bool:
        """Tell whether a state with the components of a key is known to keep the limit."""
        return any(_is_no_worse(state, kept) for kept in self._by_slots.get(key, ()))

    def add(self, key: Hashable, state: DriveState) -> None:
        """Remember a state that keeps the limit, instead of those it covers."""
        if len(self._by_slots) > SLOTS_KEPT:
            self._by_slots.clear()
        rest = [kept for kept in self._by_slots.get(key, ()) if not _is_no_worse(kept, state)]
        self._by_slots[key] = (state, *rest[: STATES_KEPT - 1])


def _is_no_worse(state: DriveState, other: DriveState) -> bool:
    (drag, rolling, heat, power), of_other = state.effects, other.effects
    return (
        state.mass_g <= other.mass_g
        and drag <= of_other[0]
        and rolling <= of_other[1]
        and heat <= of_other[2]
        and power <= of_other[3]
    )


@dataclass(frozen=True)
class FallingLimit:
    """At least so much of a fact that falls, or at most so much of one that rises.

    When choices break it, it tells a greatest mass for the region of all builds with the same
    components and no less of the effects: in that region no heavier build keeps the limit, since
    the fact moves one way with each. The region is made as wide as the choices stay outside.
    """

    id: str
    offer: Offer
    """As the fact reads it."""
    fact: DriveFact
    on: Dependence
    mass_g: Quantity
    bound: float
    lightest_g: int
    """No build of the vehicle is lighter."""
    known: KeptStates = field(default_factory=KeptStates)

    def kept_by(self, many: Sequence[Mapping[str, str]]) -> list[bool]:
        """Tell of each complete choices whether they keep the limit, all in one computation."""
        states = [drive_state(self.offer, choices, self.mass_g) for choices in many]
        unsure = [state for state in states if not self._is_known_to_keep(state)]
        if not unsure:
            return [True] * len(states)
        kept = dict(zip(unsure, self._keeps_all(unsure), strict=True))
        for state in unsure:
            if kept[state]:
                self.known.add(self._key(state), state)
        return [kept.get(state, True) for state in states]

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        """Tell a region of too heavy builds that these choices lie in; None if they keep it."""
        state = drive_state(self.offer, choices, self.mass_g)
        if self._is_known_to_keep(state):
            return None
        if self._keeps(state):
            self.known.add(self._key(state), state)
            return None
        region = self._region_around(choices)
        for group in self._by_weight(choices):
            wider = {name: options for name, options in region.items() if name != group.id}
            if not self._keeps(self._best_of(wider, state.mass_g)):
                region = wider
        greatest_g = self._greatest_mass_g(region, state.mass_g)
        breaks_g = self.lightest_g if greatest_g is None else greatest_g + 1
        region = self._with_other_components(region, breaks_g)
        return ConditionalLimit(self.id, region, self.mass_g, greatest_g)

    def _is_known_to_keep(self, state: DriveState) -> bool:
        return self.known.cover(self._key(state), state)

    def _key(self, state: DriveState) -> Hashable:
        """Name what the fact reads of a state's components."""
        slots = state.slots
        if slots not in self.known.keys:
            if len(self.known.keys) > SLOTS_KEPT:
                self.known.keys.clear()
            alike = self.on.alike
            read = tuple(
                (pair[0], alike.get(pair, pair[1])) for pair in slots if pair[0] in self.fact.reads
            )
            self.known.keys[slots] = read
        return self.known.keys[slots]

    def _with_other_components(self, region: Region, breaks_g: int) -> Region:
        """Widen a region by components with which its best build breaks the limit as well."""
        own = {group.id: region[group.id] for group in self.on.slot_groups}
        likely = own
        """Components that kept the limit in an earlier trial; mostly they do in the next one."""
        for group in self.on.slot_groups:
            for options in slot_classes(group, self.on, None):
                trial = {**region, group.id: options}
                if self._keeps(self._best_of({**trial, **likely, group.id: options}, breaks_g)):
                    continue
                parts = list(islice(slot_regions(self.on, trial), WIDEST + 1))
                if len(parts) > WIDEST:
                    break
                kept = self._keeps_all([self._best_of({**trial, **p}, breaks_g) for p in parts])
                if any(kept):
                    likely = {**parts[kept.index(True)], group.id: own[group.id]}
                else:
                    region = {**region, group.id: region[group.id] | options}
        return region

    def _keeps_all(self, states: list[DriveState]) -> list[bool]:
        return [self._is_within(value) for value in self.fact.evaluate(states)]

    def _is_within(self, value: float | None) -> bool:
        if value is None:
            return True
        return value >= self.bound if self.fact.falls else value <= self.bound

    def _keeps(self, state: DriveState) -> bool:
        return self._keeps_all([state])[0]

    def _best_of(self, region: Region, mass_g: int) -> DriveState:
        return corner_state(self.offer, region, mass_g, favourable=True)

    def _region_around(self, choices: Mapping[str, str]) -> Region:
        region: Region = {}
        for group in self.on.slot_groups:
            region[group.id] = _alike_and_no_better(self.offer, group, choices[group.id], self.on)
        for group in self.on.effect_groups:
            region[group.id] = _no_better(self.offer, group, choices[group.id])
        return region

    def _by_weight(self, choices: Mapping[str, str]) -> list[Group]:
        """Order the effect groups so that the least telling choices are left out first."""
        return sorted(
            self.on.effect_groups,
            key=lambda group: distance_to_corner(
                self.offer, group, choices[group.id], {}, favourable=True
            ),
        )

    def _greatest_mass_g(self, region: Region, too_heavy_g: int) -> int | None:
        """Bisect for the greatest whole-gram mass at which the best of a region keeps the limit."""
        best = self._best_of(region, self.lightest_g)
        if not self._keeps(best):
            return None
        keeps_g, breaks_g = self.lightest_g, too_heavy_g
        while breaks_g - keeps_g > 1:
            middle_g = (keeps_g + breaks_g) // 2
            if self._keeps(DriveState(best.slots, best.effects, middle_g)):
                keeps_g = middle_g
            else:
                breaks_g = middle_g
        return keeps_g


def _no_better(offer: Offer, group: Group, option_id: str) -> frozenset[str]:
    """List the options that have no less of any effect than one."""
    mine = offer.effects_of(offer.option_by_pair[group.id, option_id])
    return frozenset(
        option.id
        for option in group.options
        if all(a >= b for a, b in zip(offer.effects_of(option), mine, strict=True))
    )


def _alike_and_no_better(
    offer: Offer, group: Group, option_id: str, on: Dependence
) -> frozenset[str]:
    """List the options that fit the same components and have no less of any effect."""
    mine = slot_signature(offer.option_by_pair[group.id, option_id], on.alike)
    alike = {o.id for o in group.options if slot_signature(o, on.alike) == mine}
    return _no_better(offer, group, option_id) & alike
