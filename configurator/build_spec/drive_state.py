"""What the physics reads of a build: the components in their slots, the effects, the mass."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from configurator.build_spec.offer import EffectVector, Offer
from configurator.catalog.models.component import Component, Slot
from configurator.catalog.models.group import Option
from configurator.rules.problem import Quantity

C = TypeVar("C", bound=Component)

NO_EFFECT: EffectVector = (0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True)
class DriveState:
    """Everything the physics reads of a build, hashable so that an answer is computed once."""

    slots: tuple[tuple[Slot, str], ...]
    """Slot and component id, sorted; slots that hold nothing are left out."""
    effects: EffectVector
    mass_g: int


@dataclass(frozen=True)
class Parts:
    """The components of a state, each found by slot and kind."""

    by_slot: Mapping[Slot, Component]

    def get(self, slot: Slot, kind: type[C]) -> C | None:
        """Return what is fitted in a slot; None when nothing is."""
        component = self.by_slot.get(slot)
        return component if isinstance(component, kind) else None


def sum_effects(vectors: Iterable[EffectVector]) -> EffectVector:
    """Add effects one by one.

    Examples
    --------
    >>> sum_effects([(0.1, 0.0, 5.0, 20.0), (0.0, 0.0, -5.0, 0.0)])
    (0.1, 0.0, 0.0, 20.0)
    """
    total = NO_EFFECT
    for vector in vectors:
        total = (
            total[0] + vector[0],
            total[1] + vector[1],
            total[2] + vector[2],
            total[3] + vector[3],
        )
    return total


def slots_filled(offer: Offer, options: Iterable[Option]) -> tuple[tuple[Slot, str], ...]:
    """Tell what sits in each slot: what an option fits, else what the vehicle has anyway."""
    filled: dict[Slot, str] = dict(offer.vehicle.fits)
    for option in options:
        filled.update(option.fits)
    return tuple(sorted(filled.items()))


def drive_state(offer: Offer, choices: Mapping[str, str], mass_g: Quantity) -> DriveState:
    """Read the state of complete choices.

    Parameters
    ----------
    offer : Offer
        What the vehicle is offered.
    choices : mapping
        Group → option, complete.
    mass_g : Quantity
        The mass that counts, without or with load [g].
    """
    effects, fits = offer.telling_effects, offer.telling_fits
    pairs = [(group_id, choices[group_id]) for group_id in offer.telling_groups]
    fitted = tuple(fits[pair] for pair in pairs if pair in fits)
    return DriveState(
        slots=offer.slots_with(fitted),
        effects=sum_effects([effects[pair] for pair in pairs if pair in effects]),
        mass_g=mass_g.of(choices),
    )
