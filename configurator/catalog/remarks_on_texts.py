"""Remarks on texts: nobody could ever receive them."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.cross_checks.offered import options_by_group
from configurator.catalog.fitted_parts import fitted_by_slot
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.text import Text
from configurator.catalog.models.vehicle import Vehicle


def texts_for_nobody(catalog: Catalog) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield texts whose conditions no build of any vehicle can meet."""
    for text in catalog.texts:
        if not any(may_receive(catalog, vehicle, text) for vehicle in catalog.vehicles):
            what = f'nobody can receive the text "{text.id}"; no vehicle meets applies_if'
            yield "W002", ("text", text.id), what, "Correct applies_if or take the text out."


def may_receive(catalog: Catalog, vehicle: Vehicle, text: Text) -> bool:
    """Tell whether a vehicle is offered everything that a text asks for, rules left aside."""
    applies = text.applies_if
    if applies.vehicles is not None and vehicle.id not in applies.vehicles:
        return False
    offer = options_by_group(catalog.groups, vehicle.id)
    if not all(
        offer.get(group, frozenset()) & set(options) for group, options in applies.choices.items()
    ):
        return False
    fitted = fitted_by_slot(catalog, vehicle)
    return all(
        fitted.get(slot, set()) & set(components or fitted.get(slot, ()))
        for slot, components in applies.slots.items()
    )
