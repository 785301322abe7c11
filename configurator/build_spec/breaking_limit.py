"""The other side of a limit on a fact of driving: what holds in the builds that break it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from configurator.build_spec.drive_state import DriveState, drive_state
from configurator.build_spec.falling_limit import WIDEST, FallingLimit
from configurator.build_spec.offer import Offer
from configurator.build_spec.slot_classes import (
    Region,
    corner_state,
    slot_classes,
    slot_regions,
    slot_signature,
)
from configurator.catalog.models.group import Group
from configurator.rules.problem import ConditionalLimit, Quantity


@dataclass(frozen=True)
class BreakingLimit:
    """Kept by just the builds that break a limit.

    It tells a region of builds that keep the limit: those with the same components in the slots
    that matter, no more of any effect, and no more mass than a bisection finds safe.
    """

    limit: FallingLimit

    @property
    def id(self) -> str:
        """The limit's own."""
        return self.limit.id

    def kept_by(self, many: Sequence[Mapping[str, str]]) -> list[bool]:
        """Tell of each complete choices whether they break the limit."""
        return [not kept for kept in self.limit.kept_by(many)]

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        """Tell a region of builds that keep the limit and holds these choices; None if they don't.

        Parameters
        ----------
        choices : mapping of str to str
            Complete.
        """
        limit = self.limit
        state = drive_state(limit.offer, choices, limit.mass_g)
        if not self._kept([state]):
            return None
        region = self._region_around(choices)
        for group in limit.on.effect_groups:
            wider = {name: options for name, options in region.items() if name != group.id}
            if self._kept([self._worst_of(wider, state.mass_g)]):
                region = wider
        safe_g = self._greatest_safe_mass_g(region, state.mass_g)
        region = self._with_other_components(region, self._heaviest_g if safe_g is None else safe_g)
        if safe_g is None:
            return ConditionalLimit(limit.id, region, Quantity(0, {}), None)
        return ConditionalLimit(limit.id, region, self._mass_below_zero, -safe_g - 1)

    def _region_around(self, choices: Mapping[str, str]) -> Region:
        offer, on = self.limit.offer, self.limit.on
        region: Region = {}
        for group in on.slot_groups:
            mine = slot_signature(offer.option_by_pair[group.id, choices[group.id]], on.alike)
            alike = {o.id for o in group.options if slot_signature(o, on.alike) == mine}
            region[group.id] = _no_worse(offer, group, choices[group.id]) & alike
        for group in on.effect_groups:
            region[group.id] = _no_worse(offer, group, choices[group.id])
        return region

    def _with_other_components(self, region: Region, mass_g: int) -> Region:
        """Widen a region by components with which its worst build keeps the limit as well."""
        on, narrow = self.limit.on, region
        for group in on.slot_groups:
            for options in slot_classes(group, on, None):
                # Most fail at once; that is much cheaper to see than with all that is wide already.
                if self._kept([self._worst_of({**narrow, group.id: options}, mass_g)]):
                    trial = {**region, group.id: options}
                    regions = list(islice(slot_regions(on, trial), WIDEST + 1))
                    states = [self._worst_of({**trial, **parts}, mass_g) for parts in regions]
                    if len(states) <= WIDEST and self._kept(states):
                        region = {**region, group.id: region[group.id] | options}
        return region

    @cached_property
    def _mass_below_zero(self) -> Quantity:
        """The mass with its sign turned; one for all that is told, since engines keep each sum."""
        mass_g = self.limit.mass_g
        return Quantity(
            -mass_g.constant, {pair: -weight for pair, weight in mass_g.weights.items()}
        )

    @cached_property
    def _heaviest_g(self) -> int:
        mass_g = self.limit.mass_g
        return mass_g.constant + sum(
            max(mass_g.weights.get((group.id, option.id), 0) for option in group.options)
            for group in self.limit.offer.groups
        )

    def _greatest_safe_mass_g(self, region: Region, safe_g: int) -> int | None:
        """Bisect for the greatest mass at which the worst of a region keeps the limit.

        None means that no build of the vehicle is too heavy.
        """
        worst = self._worst_of(region, self._heaviest_g)
        if self._kept([worst]):
            return None
        too_heavy_g = self._heaviest_g
        while too_heavy_g - safe_g > 1:
            middle_g = (safe_g + too_heavy_g) // 2
            if self._kept([DriveState(worst.slots, worst.effects, middle_g)]):
                safe_g = middle_g
            else:
                too_heavy_g = middle_g
        return safe_g

    def _worst_of(self, region: Region, mass_g: int) -> DriveState:
        return corner_state(self.limit.offer, region, mass_g, favourable=False)

    def _kept(self, states: Sequence[DriveState]) -> bool:
        return all(
            value is None
            or (value >= self.limit.bound if self.limit.fact.falls else value <= self.limit.bound)
            for value in self.limit.fact.evaluate(states)
        )


def _no_worse(offer: Offer, group: Group, option_id: str) -> frozenset[str]:
    """List the options that have no more of any effect than one."""
    mine = offer.effects_of(offer.option_by_pair[group.id, option_id])
    return frozenset(
        option.id
        for option in group.options
        if all(a <= b for a, b in zip(offer.effects_of(option), mine, strict=True))
    )
