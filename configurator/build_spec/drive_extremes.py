"""The least and greatest of a fact that physics computes, over all builds still possible."""

from __future__ import annotations

import heapq
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import count

from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.drive_state import (
    DriveState,
    drive_state,
    slots_filled,
    sum_effects,
)
from configurator.build_spec.extremes import Asking
from configurator.build_spec.offer import BILLION, EffectVector, Offer, componentwise
from configurator.build_spec.slot_classes import (
    Dependence,
    Region,
    allowed_options,
    distance_to_corner,
    slot_regions,
    typical_options,
)
from configurator.catalog.models.component import Slot
from configurator.catalog.models.group import Group
from configurator.catalog.models.rule import FactName
from configurator.rules.problem import Quantity

RANGES: frozenset[FactName] = frozenset({"range_low_km", "range_mid_km", "range_high_km"})

CLOSE_ENOUGH = 1e-9
"""Two values nearer than this are the same; what is left is the rounding of the arithmetic."""

NEAR_KM = 0.1
"""Where a search for a range takes long, an end may be missed by this little [km]."""

LOOKS_BEFORE_NEAR = 6
"""Regions looked into before that little does not matter."""

MASS_GAP_G = 2000
"""By how little a first bound on the mass of a region may be missed where finding it takes long."""


@dataclass(frozen=True)
class DriveExtreme:
    """An extreme of a drive fact, with a build that has it."""

    value: float
    build: Mapping[str, str]


def drive_extreme(
    asking: Asking,
    offer: Offer,
    fact: DriveFact,
    on: Dependence,
    mass_g: Quantity,
    *,
    favourable: bool,
) -> DriveExtreme | None:
    """Find the most, or least, favourable value of a drive fact.

    Parameters
    ----------
    asking : Asking
        The engine with the picks.
    offer, fact, on, mass_g
        The vehicle's offer, the fact, what it depends on, the mass it reads.
    favourable : bool
        Whether the value of the lightest, least hindered build is wanted, or of the opposite.

    Returns
    -------
    DriveExtreme or None
        None where no possible build has the fact.

    Source
    ------
    Best-first branch and bound: a region is bounded by a state none of its builds beats, and split
    by the effects of one group until a build attains the bound.
    """
    seen = offer.reading(fact.effects)
    search = _Search(asking, seen, fact, on, mass_g, favourable=favourable)
    return search.run()


@dataclass
class _Search:
    """One search for the most, or least, favourable build."""

    asking: Asking
    offer: Offer
    fact: DriveFact
    on: Dependence
    mass_g: Quantity
    favourable: bool
    heap: list[tuple[float, int, Region]] = field(default_factory=list)
    order: count[int] = field(default_factory=count)
    known_bounds: dict[tuple[str, frozenset[str]], int | None] = field(default_factory=dict)
    known_effects: dict[tuple[str, frozenset[str] | None], EffectVector] = field(
        default_factory=dict
    )
    known_slots: dict[tuple[frozenset[str], ...], tuple[tuple[Slot, str], ...]] = field(
        default_factory=dict
    )
    known_masses: dict[tuple[str, frozenset[str] | None], int] = field(default_factory=dict)
    found: DriveExtreme | None = None
    left_out: float = -math.inf
    """The greatest signed bound of a region that was not looked into."""
    looks: int = 0

    @property
    def sign(self) -> float:
        """1 when a greater value is sought, -1 when a smaller one is."""
        return 1.0 if self.fact.falls == self.favourable else -1.0

    def run(self) -> DriveExtreme | None:
        self._push(list(slot_regions(self.on, self.open_to)))
        while self.heap:
            negative_bound, _, region = heapq.heappop(self.heap)
            if not self._may_improve(-negative_bound):
                break
            self._look_into(region)
        return self._told()

    def _told(self) -> DriveExtreme | None:
        """Tell what no build passes; beyond the build found where regions were left out."""
        if self.found is None or self.left_out <= self.sign * self.found.value:
            return self.found
        return DriveExtreme(self.sign * self.left_out, self.found.build)

    def _look_into(self, region: Region) -> None:
        ask = self.asking.least if self.favourable else self.asking.greatest
        answer = ask(self.mass_g, region)
        if answer is None:
            return
        self.looks += 1
        mass_g, build = answer
        state = drive_state(self.offer, build, self.mass_g)
        corner = self._corner(region, mass_g)
        value, bound = self.fact.evaluate([state, corner])
        if value is None or bound is None:
            return
        if self.found is None or self.sign * value > self.sign * self.found.value:
            self.found = DriveExtreme(value, build)
        if state.effects != corner.effects and self._may_improve(self.sign * bound):
            self._push(self._split(region, build))

    def _may_improve(self, signed_bound: float) -> bool:
        if self.found is None:
            return True
        near = CLOSE_ENOUGH
        takes_long = self.looks > LOOKS_BEFORE_NEAR and self.fact.name in RANGES
        if takes_long and not self.asking.exact:
            near = NEAR_KM
        beyond = signed_bound - self.sign * self.found.value
        if CLOSE_ENOUGH < beyond <= near:
            self.left_out = max(self.left_out, signed_bound)
        return beyond > near

    def _push(self, regions: Sequence[Region]) -> None:
        bounded = [(region, self._bound_g(region)) for region in regions]
        hopeful = [(region, mass_g) for region, mass_g in bounded if mass_g is not None]
        states = [self._corner(region, mass_g) for region, mass_g in hopeful]
        for (region, _), value in zip(hopeful, self.fact.evaluate(states), strict=True):
            if value is not None and self._may_improve(self.sign * value):
                heapq.heappush(self.heap, (-self.sign * value, next(self.order), region))

    def _bound_g(self, region: Region) -> int | None:
        """Bound the mass of a region by what each of its groups allows; None if one is empty.

        No region is lighter (or heavier) than all builds that share one of its slot classes. There
        are few such classes, so the engine is asked about each once.
        """
        ask = self.asking.least if self.favourable else self.asking.greatest
        tightest = max if self.favourable else min
        bound = self._free_mass_g(region)
        for group in self.on.slot_groups:
            options = region[group.id]
            if (group.id, options) not in self.known_bounds:
                answer = ask(self.mass_g, {group.id: options}, MASS_GAP_G)
                self.known_bounds[group.id, options] = None if answer is None else answer[0]
            of_class = self.known_bounds[group.id, options]
            if of_class is None:
                return None
            bound = tightest(bound, of_class)
        return bound

    def _corner(self, region: Region, mass_g: int) -> DriveState:
        """Make the state no build of a region passes: its groups' extremes, and all builds'."""
        tightest = max if self.favourable else min
        effects = sum_effects(
            self._group_effects(group.id, self._options(group.id, region)) for group in self.moving
        )
        bounded = componentwise(tightest, [effects, self._overall_effects])
        return DriveState(self._slots(region), bounded, mass_g)

    def _slots(self, region: Region) -> tuple[tuple[Slot, str], ...]:
        """Tell what every build of a region has in the slots that matter."""
        key = tuple(region[group.id] for group in self.on.slot_groups)
        if key not in self.known_slots:
            typical = typical_options(self.offer, {**self.open_to, **region})
            self.known_slots[key] = slots_filled(self.offer, typical)
        return self.known_slots[key]

    @cached_property
    def open_to(self) -> Region:
        """Group → the options that a build may have, where that is known."""
        return self.asking.open_to

    def _options(self, group_id: str, region: Region) -> frozenset[str] | None:
        return region.get(group_id, self.open_to.get(group_id))

    @cached_property
    def moving(self) -> list[Group]:
        """The groups whose options have any effect that is read."""
        told = {group_id for group_id, _ in self.offer.telling_effects}
        return [group for group in self.offer.groups if group.id in told]

    def _group_effects(self, group_id: str, options: frozenset[str] | None) -> EffectVector:
        key = (group_id, options)
        if key not in self.known_effects:
            region = {} if options is None else {group_id: options}
            allowed = allowed_options(self.offer.group_by_id[group_id], region)
            extreme = min if self.favourable else max
            self.known_effects[key] = componentwise(extreme, self.offer.vectors_of(allowed))
        return self.known_effects[key]

    @cached_property
    def _overall_effects(self) -> EffectVector:
        """Ask for the extreme of each effect; perhaps no build has all at once."""
        ask = self.asking.least if self.favourable else self.asking.greatest
        sums = [ask(quantity, {}) for quantity in self.offer.effect_sums]
        first, second, third, fourth = (0.0 if s is None else s[0] / BILLION for s in sums)
        return first, second, third, fourth

    def _free_mass_g(self, region: Region) -> int:
        """Bound the mass without asking the engine: each group's least, or greatest."""
        return self._whole_mass_g + sum(
            self._group_mass_g(group_id, options)
            - self._group_mass_g(group_id, self.open_to.get(group_id))
            for group_id, options in region.items()
        )

    @cached_property
    def _whole_mass_g(self) -> int:
        return self.mass_g.constant + sum(
            self._group_mass_g(group.id, self.open_to.get(group.id)) for group in self.offer.groups
        )

    def _group_mass_g(self, group_id: str, options: frozenset[str] | None) -> int:
        key = (group_id, options)
        if key not in self.known_masses:
            extreme = min if self.favourable else max
            self.known_masses[key] = extreme(
                self.mass_g.weights.get((group_id, option.id), 0)
                for option in self.offer.group_by_id[group_id].options
                if options is None or option.id in options
            )
        return self.known_masses[key]

    def _split(self, region: Region, build: Mapping[str, str]) -> list[Region]:
        """Split by the effects of the group that keeps the build furthest from the bound."""
        within = {**self.open_to, **region}
        group = max(
            self.offer.groups,
            key=lambda group: distance_to_corner(
                self.offer, group, build[group.id], within, favourable=self.favourable
            ),
        )
        alike: dict[EffectVector, set[str]] = {}
        for option in allowed_options(group, within):
            alike.setdefault(self.offer.effects_of(option), set()).add(option.id)
        return [{**region, group.id: frozenset(options)} for options in alike.values()]
