"""Which options are the same to a fact: they fit the same components and have the same effects."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.drive_state import DriveState, slots_filled, sum_effects
from configurator.build_spec.offer import EffectVector, Offer, effect_vector
from configurator.catalog.models.component import Slot
from configurator.catalog.models.group import Group, Option

Region = dict[str, frozenset[str]]
"""Group → the options a region of builds may take there."""


@dataclass(frozen=True)
class Dependence:
    """The groups a fact depends on beside the mass."""

    slots: frozenset[Slot]
    slot_groups: tuple[Group, ...]
    """Groups of which some option fits a slot that the fact reads."""
    effect_groups: tuple[Group, ...]
    """Other groups of which the options differ in their effects."""


def dependence(offer: Offer, fact: DriveFact) -> Dependence:
    """Find the groups that a fact depends on."""
    slot_groups = tuple(
        group
        for group in offer.groups
        if any(fact.slots & option.fits.keys() for option in group.options)
    )
    effect_groups = tuple(
        group
        for group in offer.groups
        if fact.reads_effects
        and group not in slot_groups
        and len({effect_vector(option.effects) for option in group.options}) > 1
    )
    return Dependence(fact.slots, slot_groups, effect_groups)


def slot_regions(on: Dependence, allowed: Mapping[str, frozenset[str]]) -> Iterator[Region]:
    """Split the builds by what they fit in the slots that matter; effects may differ within.

    Parameters
    ----------
    on : Dependence
        What the fact depends on.
    allowed : mapping
        Options still allowed, for groups that are restricted.
    """
    classes = [_classes(group, on, allowed.get(group.id)) for group in on.slot_groups]
    for combination in product(*classes):
        yield {
            group.id: options for group, options in zip(on.slot_groups, combination, strict=True)
        }


def _classes(group: Group, on: Dependence, allowed: frozenset[str] | None) -> list[frozenset[str]]:
    members: dict[object, set[str]] = {}
    for option in group.options:
        if allowed is None or option.id in allowed:
            members.setdefault(_slot_signature(option, on.slots), set()).add(option.id)
    return [frozenset(options) for options in members.values()]


def _slot_signature(option: Option, slots: frozenset[Slot]) -> tuple[tuple[Slot, str], ...]:
    return tuple(sorted((slot, part) for slot, part in option.fits.items() if slot in slots))


def corner_state(
    offer: Offer, region: Mapping[str, frozenset[str]], mass_g: int, *, favourable: bool
) -> DriveState:
    """Make the state that no build of a region beats, or that beats none.

    Its effects are, one by one, the least (or greatest) the region allows; perhaps no build has all
    of them at once. The region allows one slot class in each slot group.

    Parameters
    ----------
    offer : Offer
        What the vehicle is offered.
    region : mapping
        Group → options allowed; groups left out are free.
    mass_g : int
        A mass that no build of the region goes below (or above) [g].
    favourable : bool
        Whether least mass and effects are wanted, or greatest.
    """
    extreme = min if favourable else max
    allowed = [allowed_options(group, region) for group in offer.groups]
    effects = sum_effects(
        _componentwise(extreme, [effect_vector(option.effects) for option in options])
        for options in allowed
    )
    return DriveState(slots_filled(offer, [options[0] for options in allowed]), effects, mass_g)


def allowed_options(group: Group, region: Mapping[str, frozenset[str]]) -> list[Option]:
    """List the options of a group that a region allows, in order."""
    options = region.get(group.id)
    return [option for option in group.options if options is None or option.id in options]


def distance_to_corner(
    offer: Offer,
    group: Group,
    option_id: str,
    region: Mapping[str, frozenset[str]],
    *,
    favourable: bool,
) -> float:
    """Say how far an option's effects lie from the extreme ones a region allows in its group.

    Each effect counts by its share of what the whole vehicle's options could move it.
    """
    vectors = [effect_vector(option.effects) for option in allowed_options(group, region)]
    corner = _componentwise(min if favourable else max, vectors)
    mine = effect_vector(offer.option_by_pair[group.id, option_id].effects)
    return sum(
        abs(own - extreme) / span
        for own, extreme, span in zip(mine, corner, offer.effect_spans, strict=True)
        if span > 0
    )


def _componentwise(
    extreme: Callable[[Sequence[float]], float], vectors: Sequence[EffectVector]
) -> EffectVector:
    first, second, third, fourth = (extreme(column) for column in zip(*vectors, strict=True))
    return first, second, third, fourth
