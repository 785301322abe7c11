"""Remarks on the records of finished vehicles: what is fitted and never tested, or never asked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from configurator.catalog.fitted_parts import fitted_by_slot
from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.catalog import Catalog


def slots_without_record(catalog: Catalog) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield fitted parts that no record speaks of, where the catalog lists records at all."""
    if not catalog.as_built:
        return
    fitted = {
        (slot, component)
        for vehicle in catalog.vehicles
        for slot, components in fitted_by_slot(catalog, vehicle).items()
        for component in components
    }
    for slot, component in sorted(fitted):
        if not any(
            _speaks_of(record.applies_if.slots, slot, component) for record in _asked(catalog)
        ):
            what = f'no record tests the {slot} "{component}"; its serial number alone is asked for'
            remedy = f"Write a record with applies_if: {{slots: {{{slot}: []}}}} in as_built.yaml."
            yield "W017", ("component", component), what, remedy


def records_of_another_country(
    catalog: Catalog,
) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield records that this workshop is never asked for."""
    country = catalog.workshop.country
    for record in catalog.as_built:
        if record.country not in {None, country}:
            what = f'record "{record.id}" is for {record.country}; the workshop is in {country}'
            yield "W018", ("record", record.id), what, "Correct the country, or take it out."


def _asked(catalog: Catalog) -> list[RecordTemplate]:
    return [r for r in catalog.as_built if r.country in {None, catalog.workshop.country}]


def _speaks_of(slots: Mapping[str, Sequence[str]], slot: str, component: str) -> bool:
    return slot in slots and (not slots[slot] or component in slots[slot])
