"""Whether texts speak of what exists, to somebody, with placeholders that can be filled."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.choice_names import choice_faults
from configurator.catalog.cross_checks.fitted import component_faults
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.draft import Draft
from configurator.catalog.models.component import Slot
from configurator.catalog.models.text import AppliesIf
from configurator.errors import Fault

SLOTS: tuple[Slot, ...] = get_args(Slot)


def text_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what texts name that does not exist."""
    for entry in draft.texts:
        yield from applies_faults(draft, names.place(entry, "applies_if"), entry.value.applies_if)


def applies_faults(draft: Draft, at: names.Place, applies: AppliesIf) -> Iterator[Fault]:
    """Yield what a condition of a text or a record names that does not exist."""
    yield from names.all_named(at.at("vehicles"), applies.vehicles, names.known_vehicles(draft))
    yield from choice_faults(draft, at.at("choices"), applies.choices)
    for slot, components in applies.slots.items():
        here = at.at("slots", slot)
        if slot not in SLOTS:
            what = f"{here.title} is no slot of a vehicle"
            yield Fault("C053", here.where, what, did_you_mean(slot, SLOTS))
            continue
        for number, component in enumerate(components):
            yield from component_faults(draft, here.at(number), slot, component)
