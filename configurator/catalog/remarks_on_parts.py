"""Remarks on components: spoken of by no text, fitted by nothing, or in each other's way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from configurator.catalog.cross_checks.offered import vehicles_of
from configurator.catalog.fitted_parts import fitted_by_slot
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.text import Text


def parts_without_text(catalog: Catalog) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield parts that may be fitted though no text says how to care for them."""
    for component in _fitted(catalog):
        slot = catalog.component_by_id[component].kind
        if not any(_speaks_of(catalog, text, slot, component) for text in catalog.texts):
            what = f'no text speaks of the {slot} "{component}", which may be fitted'
            remedy = f'Write a text with applies_if: {{slots: {{{slot}: ["{component}"]}}}}.'
            yield "W001", ("component", component), what, remedy


def parts_nobody_fits(catalog: Catalog) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield components that neither a vehicle nor an option fits."""
    fitted = _fitted(catalog)
    for component in catalog.components:
        if component.id not in fitted:
            what = f'nothing fits the component "{component.id}"'
            yield "W005", ("component", component.id), what, "Let an option fit it or take it out."


def slots_of_two_groups(catalog: Catalog) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield groups that may fit a slot which an earlier group of the talk may fit too."""
    for vehicle in catalog.vehicle_by_id:
        groups_by_slot: dict[str, list[str]] = defaultdict(list)
        for group in catalog.groups:
            for option in group.options:
                for slot in option.fits if vehicles_of({vehicle}, group, option) else ():
                    if group.id not in groups_by_slot[slot]:
                        groups_by_slot[slot].append(group.id)
        for filled, groups in groups_by_slot.items():
            for later in groups[1:]:
                what = (
                    f'groups "{groups[0]}" and "{later}" may both fit the {filled}; one would win'
                )
                remedy = "Let rules keep them apart, or fit the slot in one group."
                yield "W009", ("group", later), what, remedy


def _fitted(catalog: Catalog) -> list[str]:
    fitted = {
        component
        for vehicle in catalog.vehicles
        for components in fitted_by_slot(catalog, vehicle).values()
        for component in components
    }
    return sorted(fitted)


def _speaks_of(catalog: Catalog, text: Text, slot: str, component: str) -> bool:
    named = text.applies_if.slots.get(slot)
    if named is not None and (not named or component in named):
        return True
    return any(
        component in option.fits.values()
        for group in catalog.groups
        for option in group.options
        if option.id in text.applies_if.choices.get(group.id, ())
    )
