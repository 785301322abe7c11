"""What one vehicle is offered: its groups and options, each with what it means on this vehicle."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Slot
from configurator.catalog.models.group import Effects, Group, Option
from configurator.catalog.models.vehicle import Vehicle
from configurator.errors import ChoiceError, Fault
from configurator.rules.problem import Quantity

EffectVector = tuple[float, float, float, float]
"""Sums of drag area [m²], rolling resistance, cabin heat loss [W/K] and auxiliary power [W]."""


EffectMask = tuple[bool, bool, bool, bool]
"""Which of them are read."""

BILLION = 1_000_000_000
"""Effects are written with fewer than nine decimals, so that billionths hold them exactly."""

SLOTS_KNOWN = 5_000
"""Sets of fitted components remembered."""

EVERY_EFFECT: EffectMask = (True, True, True, True)
NO_EFFECTS: EffectMask = (False, False, False, False)


def effect_vector(effects: Effects) -> EffectVector:
    """Take the effects that the physics reads, in their fixed order."""
    return (
        effects.drag_area_m2,
        effects.rolling_resistance,
        effects.cabin_heat_loss_w_per_k,
        effects.auxiliary_power_w,
    )


def componentwise(
    extreme: Callable[[Sequence[float]], float], vectors: Sequence[EffectVector]
) -> EffectVector:
    """Take the least or greatest of each effect, one by one.

    Examples
    --------
    >>> componentwise(min, [(0.2, 0.0, 5.0, 0.0), (0.0, 0.0, 10.0, 0.0)])
    (0.0, 0.0, 5.0, 0.0)
    """
    first, second, third, fourth = (extreme(column) for column in zip(*vectors, strict=True))
    return first, second, third, fourth


CORNERS_KEPT = 20_000


@dataclass(frozen=True)
class Corner:
    """What some options of a group have in common for the physics."""

    least: EffectVector
    """The least of each effect, one by one."""
    greatest: EffectVector
    fits: tuple[tuple[Slot, str], ...]
    """What the first of them fits."""


@dataclass(frozen=True)
class Offer:
    """A vehicle with its groups in the order of the talk; options hold the vehicle's values."""

    vehicle: Vehicle
    groups: tuple[Group, ...]
    effects_read: EffectMask = EVERY_EFFECT
    """Effects left out count as none, so that options alike in the rest are alike."""

    def of_vehicle(self, vehicle: Vehicle) -> Offer:
        """Return the same offer for the vehicle as it was measured."""
        return self if vehicle == self.vehicle else replace(self, vehicle=vehicle)

    def reading(self, effects: EffectMask) -> Offer:
        """Return the offer as a fact sees it that reads only some effects."""
        if effects not in self._readings:
            self._readings[effects] = replace(self, effects_read=effects)
        return self._readings[effects]

    @cached_property
    def _readings(self) -> dict[EffectMask, Offer]:
        return {}

    def effects_of(self, option: Option) -> EffectVector:
        """Return the effects of an option that are read, the others as none."""
        drag, rolling, heat_loss, auxiliary = effect_vector(option.effects)
        reads_drag, reads_rolling, reads_heat_loss, reads_auxiliary = self.effects_read
        return (
            drag * reads_drag,
            rolling * reads_rolling,
            heat_loss * reads_heat_loss,
            auxiliary * reads_auxiliary,
        )

    @cached_property
    def telling_effects(self) -> dict[tuple[str, str], EffectVector]:
        """The effects that are read of the options that have any."""
        read = {(group.id, option.id): self.effects_of(option) for group, option in self.pairs()}
        return {pair: vector for pair, vector in read.items() if any(vector)}

    @cached_property
    def telling_fits(self) -> dict[tuple[str, str], tuple[tuple[Slot, str], ...]]:
        """What the options fit that fit anything."""
        return {
            (group.id, option.id): tuple(option.fits.items())
            for group, option in self.pairs()
            if option.fits
        }

    def slots_with(
        self, fitted: tuple[tuple[tuple[Slot, str], ...], ...]
    ) -> tuple[tuple[Slot, str], ...]:
        """Tell what sits in each slot: what is fitted, else what the vehicle has anyway."""
        if fitted not in self._slots_known:
            filled: dict[Slot, str] = dict(self.vehicle.fits)
            for fits in fitted:
                filled.update(fits)
            if len(self._slots_known) > SLOTS_KNOWN:
                self._slots_known.clear()
            self._slots_known[fitted] = tuple(sorted(filled.items()))
        return self._slots_known[fitted]

    @cached_property
    def _slots_known(self) -> dict[object, tuple[tuple[Slot, str], ...]]:
        return {}

    @cached_property
    def telling_groups(self) -> tuple[str, ...]:
        """Groups of which some option has effects that are read or fits anything, in order."""
        telling = {group for group, _ in (*self.telling_effects, *self.telling_fits)}
        return tuple(group.id for group in self.groups if group.id in telling)

    def vectors_of(self, options: Iterable[Option]) -> list[EffectVector]:
        """Return the effects that are read of several options."""
        return [self.effects_of(option) for option in options]

    @cached_property
    def group_by_id(self) -> dict[str, Group]:
        """Groups by id."""
        return {group.id: group for group in self.groups}

    @cached_property
    def option_by_pair(self) -> dict[tuple[str, str], Option]:
        """Options by (group id, option id)."""
        return {(group.id, option.id): option for group, option in self.pairs()}

    def pairs(self) -> Iterator[tuple[Group, Option]]:
        """Every option with its group, in order."""
        for group in self.groups:
            for option in group.options:
                yield group, option

    def corner_of(self, group: Group, allowed: frozenset[str] | None) -> Corner:
        """Sum up the options of a group that are allowed, all when None; computed once for each."""
        key = (group.id, allowed)
        if key not in self._corners:
            if len(self._corners) > CORNERS_KEPT:
                self._corners.clear()
            options = [o for o in group.options if allowed is None or o.id in allowed]
            vectors = self.vectors_of(options)
            self._corners[key] = Corner(
                componentwise(min, vectors),
                componentwise(max, vectors),
                tuple(options[0].fits.items()),
            )
        return self._corners[key]

    @cached_property
    def _corners(self) -> dict[tuple[str, frozenset[str] | None], Corner]:
        return {}

    @cached_property
    def least_effects(self) -> dict[str, EffectVector]:
        """The least of each effect in each group."""
        return {g.id: componentwise(min, self.vectors_of(g.options)) for g in self.groups}

    @cached_property
    def greatest_effects(self) -> dict[str, EffectVector]:
        """The greatest of each effect in each group."""
        return {g.id: componentwise(max, self.vectors_of(g.options)) for g in self.groups}

    @cached_property
    def effect_sums(self) -> tuple[Quantity, ...]:
        """Each effect as an exact whole-number sum over the choices, in billionths of its unit."""
        return tuple(
            Quantity(
                0,
                {
                    (group.id, option.id): round(self.effects_of(option)[number] * BILLION)
                    for group, option in self.pairs()
                    if self.effects_of(option)[number]
                },
            )
            for number in range(len(EVERY_EFFECT))
        )

    @cached_property
    def effect_spans(self) -> EffectVector:
        """How far the options could move each effect that the physics reads, all together."""
        spans = [
            [high - low for low, high in zip(self.least_effects[g], most, strict=True)]
            for g, most in self.greatest_effects.items()
        ]
        first, second, third, fourth = (sum(column) for column in zip(*spans, strict=True))
        return first, second, third, fourth

    def options_of(self, choices: Mapping[str, str]) -> tuple[Option, ...]:
        """Return the options chosen, in the order of the talk."""
        return tuple(
            self.option_by_pair[group.id, choices[group.id]]
            for group in self.groups
            if group.id in choices
        )

    def house_choices(self) -> dict[str, str]:
        """Return what the workshop fits, group by group, when the customer has no wish."""
        return {group.id: group.house_choice for group in self.groups}


def offer_for(catalog: Catalog, vehicle_id: str) -> Offer:
    """Resolve what a vehicle is offered.

    Raises
    ------
    ChoiceError
        If the catalog has no such vehicle.
    """
    if vehicle_id not in catalog.vehicle_by_id:
        fault = Fault(
            "S001",
            "vehicle",
            f'"{vehicle_id}" is not in the catalog; a build needs a vehicle the workshop converts',
            f"Choose one of {', '.join(sorted(catalog.vehicle_by_id))}.",
        )
        raise ChoiceError([fault])
    groups = tuple(_on_vehicle(group, vehicle_id) for group in catalog.groups_for(vehicle_id))
    return Offer(catalog.vehicle_by_id[vehicle_id], groups)


def check_choices(offer: Offer, choices: Mapping[str, str]) -> tuple[Fault, ...]:
    """Find the choices that the catalog does not offer for this vehicle (any more).

    Returns
    -------
    tuple of Fault
        One for each unknown group or option; empty when all are known.
    """
    return tuple(
        fault
        for group_id, option_id in choices.items()
        if (fault := _fault_of_choice(offer, group_id, option_id)) is not None
    )


def _fault_of_choice(offer: Offer, group_id: str, option_id: str) -> Fault | None:
    group = offer.group_by_id.get(group_id)
    if group is None:
        return Fault(
            "S002",
            f"choices.{group_id}",
            f'the {offer.vehicle.label} has no group "{group_id}"',
            "Remove the choice, or name one of its groups.",
        )
    if (group_id, option_id) not in offer.option_by_pair:
        names = ", ".join(option.id for option in group.options)
        return Fault(
            "S003",
            f"choices.{group_id}",
            f'"{option_id}" is not offered for {group.label} on the {offer.vehicle.label}',
            f"Choose one of {names}.",
        )
    return None


def _on_vehicle(group: Group, vehicle_id: str) -> Group:
    options = tuple(_option_on_vehicle(option, vehicle_id) for option in group.options)
    return group.model_copy(update={"options": options})


def _option_on_vehicle(option: Option, vehicle_id: str) -> Option:
    own = option.on_vehicle.get(vehicle_id)
    if own is None:
        return option
    given = {name: getattr(own, name) for name in own.model_fields_set}
    return option.model_copy(update=given)
