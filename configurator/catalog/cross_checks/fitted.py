"""Which component a slot may take: its kind is the slot's name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import get_args

from configurator.catalog.cross_checks import names
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.draft import Draft
from configurator.catalog.models.component import Slot
from configurator.catalog.shelf import text_at
from configurator.errors import Fault


def kinds_of_components(draft: Draft) -> dict[str, str]:
    """Map each component to its kind, broken ones too where they say it."""
    return {
        identifier: kind
        for raw in draft.components.raw
        if (identifier := text_at(raw.value, "id")) and (kind := text_at(raw.value, "kind"))
        if kind in get_args(Slot)
    }


def fits_faults(draft: Draft, at: names.Place, fits: Mapping[Slot, str]) -> Iterator[Fault]:
    """Yield components that do not exist or are of another kind than their slot.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.
    at : Place
        Where `fits` stands.
    fits : mapping of Slot to str
        Slot → component.

    Yields
    ------
    Fault
        At most one for each slot.
    """
    for slot, component in fits.items():
        yield from component_faults(draft, at.at(slot), slot, component)


def component_faults(draft: Draft, at: names.Place, slot: str, component: str) -> Iterator[Fault]:
    """Yield a fault if a slot cannot take a component."""
    yield from names.named(at, component, names.known_components(draft))
    kinds = kinds_of_components(draft)
    if kinds.get(component, slot) != slot:
        what = f'{at.title} is "{component}", a {kinds[component]}; the slot takes a {slot}'
        fitting = [name for name, kind in kinds.items() if kind == slot]
        yield Fault("C060", at.where, what, did_you_mean(component, fitting))
