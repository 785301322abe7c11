"""Which options are the same to a fact: they fit the same components and have the same effects."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.drive_state import DriveState, sum_effects
from configurator.build_spec.offer import Offer, componentwise
from configurator.catalog.models.component import Component, Slot
from configurator.catalog.models.group import Group, Option

Region = dict[str, frozenset[str]]
"""Group → the options a region of builds may take there."""


@dataclass(frozen=True)
class Dependence:
    """The groups a fact depends on beside the mass."""

    alike: Mapping[tuple[Slot, str], Hashable]
    """Slot and component id → what the fact reads of it; for the slots that it reads."""
    slot_groups: tuple[Group, ...]
    """Groups of which some option fits a slot that the fact reads."""
    effect_groups: tuple[Group, ...]
    """Other groups of which the options differ in their effects."""


def dependence(offer: Offer, fact: DriveFact, components: Mapping[str, Component]) -> Dependence:
    """Find the groups that a fact depends on.

    Parameters
    ----------
    offer : Offer
        What the vehicle is offered.
    fact : DriveFact
        The fact, which tells what it reads.
    components : mapping
        The catalog's components by id.
    """
    alike = {
        (slot, component_id): _read(components[component_id], fact.reads[slot])
        for _, option in offer.pairs()
        for slot, component_id in option.fits.items()
        if slot in fact.reads
    }
    slot_groups = _groups_fitting(offer, alike)
    effect_groups = tuple(
        group
        for group in offer.groups
        if group not in slot_groups
        and len(set(offer.reading(fact.effects).vectors_of(group.options))) > 1
    )
    return Dependence(alike, slot_groups, effect_groups)


def whole_components(offer: Offer, slots: Collection[Slot]) -> Dependence:
    """Depend on which component sits in some slots, whatever it is read for."""
    alike: dict[tuple[Slot, str], Hashable] = {
        (slot, component_id): component_id
        for _, option in offer.pairs()
        for slot, component_id in option.fits.items()
        if slot in slots
    }
    return Dependence(alike, _groups_fitting(offer, alike), ())


def _read(component: Component, fields: frozenset[str]) -> Hashable:
    return repr(component.model_dump(include=set(fields)))


def _groups_fitting(offer: Offer, alike: Mapping[tuple[Slot, str], Hashable]) -> tuple[Group, ...]:
    """List the groups whose options fit different things to the slots that matter."""
    return tuple(
        group
        for group in offer.groups
        if len({slot_signature(option, alike) for option in group.options}) > 1
    )


def slot_regions(on: Dependence, allowed: Mapping[str, frozenset[str]]) -> Iterator[Region]:
    """Split the builds by what they fit in the slots that matter; effects may differ within.

    Parameters
    ----------
    on : Dependence
        What the fact depends on.
    allowed : mapping
        Options still allowed, for groups that are restricted.
    """
    classes = [slot_classes(group, on, allowed.get(group.id)) for group in on.slot_groups]
    for combination in product(*classes):
        yield {
            group.id: options for group, options in zip(on.slot_groups, combination, strict=True)
        }


def slot_classes(
    group: Group, on: Dependence, allowed: frozenset[str] | None
) -> list[frozenset[str]]:
    """Split a group's options by what they fit in the slots that matter."""
    members: dict[object, set[str]] = {}
    for option in group.options:
        if allowed is None or option.id in allowed:
            members.setdefault(slot_signature(option, on.alike), set()).add(option.id)
    return [frozenset(options) for options in members.values()]


def slot_signature(
    option: Option, alike: Mapping[tuple[Slot, str], Hashable]
) -> tuple[tuple[Slot, Hashable], ...]:
    """Say what an option fits, as far as it matters."""
    return tuple(sorted((pair[0], alike[pair]) for pair in option.fits.items() if pair in alike))


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
    filled = dict(offer.vehicle.fits)
    vectors = []
    for group in offer.groups:
        corner = offer.corner_of(group, region.get(group.id))
        filled.update(corner.fits)
        vectors.append(corner.least if favourable else corner.greatest)
    return DriveState(tuple(sorted(filled.items())), sum_effects(vectors), mass_g)


def typical_options(offer: Offer, region: Mapping[str, frozenset[str]]) -> list[Option]:
    """Take from each group an option that fits what every build of a slot region has there.

    A group that a region leaves free may still fit something that matters: the same with each of
    its options.
    """
    return [allowed_options(group, region)[0] for group in offer.groups]


def allowed_options(group: Group, region: Mapping[str, frozenset[str]]) -> list[Option]:
    """List the options of a group that a region allows, in order."""
    options = region.get(group.id)
    if options is None:
        return list(group.options)
    return [option for option in group.options if option.id in options]


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
    vectors = offer.vectors_of(allowed_options(group, region))
    corner = componentwise(min if favourable else max, vectors)
    mine = offer.effects_of(offer.option_by_pair[group.id, option_id])
    return sum(
        abs(own - extreme) / span
        for own, extreme, span in zip(mine, corner, offer.effect_spans, strict=True)
        if span > 0
    )
