"""Whether the records of finished vehicles name what exists, with bounds that can be kept."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.text_checks import applies_faults
from configurator.catalog.draft import Draft
from configurator.catalog.models.as_built import (
    COMPUTED_UNITS,
    MARKS_OF,
    RESERVED_IDS,
    TOLD_UNITS,
    Bound,
    ComputedBound,
    RecordTemplate,
    RecordValue,
)
from configurator.catalog.models_from_yaml import Entry
from configurator.errors import Fault


def record_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what the records name that does not exist, and values that nothing can satisfy."""
    stages = names.known_stages(draft)
    told: dict[str, str] = {}
    for entry in draft.as_built:
        template = entry.value
        yield from names.named(names.place(entry, "stage"), template.stage, stages)
        yield from applies_faults(draft, names.place(entry, "applies_if"), template.applies_if)
        if template.id in RESERVED_IDS or template.id.startswith(MARKS_OF):
            what = f'the record "{template.id}" has a name that is asked for without being listed'
            remedy = f'Give it another id, such as "check-of-{template.id}".'
            yield Fault("C090", entry.where("id"), what, remedy)
        for number, value in enumerate(template.values):
            yield from _value_faults(entry, number, value)
            yield from _told_again(entry, number, value, told)


def _value_faults(entry: Entry[RecordTemplate], number: int, value: RecordValue) -> Iterator[Fault]:
    for key, bound in (("at_least", value.at_least), ("at_most", value.at_most)):
        unit = _unit(bound)
        if unit is not None and unit != value.unit:
            what = f'"{value.id}" is in "{value.unit}", and what it is held against in "{unit}"'
            where = entry.where("values", number, key)
            yield Fault("C091", where, what, f'Write "unit: {unit}", and measure in it.')
    if value.tells is not None and value.unit != TOLD_UNITS[value.tells]:
        wanted = TOLD_UNITS[value.tells]
        what = (
            f'"{value.id}" tells {value.tells} in "{value.unit}"; it is computed with in {wanted}'
        )
        where = entry.where("values", number, "tells")
        yield Fault("C091", where, what, f'Write "unit: {wanted}", and measure in it.')
    least, most = value.at_least, value.at_most
    if isinstance(least, float) and isinstance(most, float) and least > most:
        what = f'"{value.id}" must be {least:g} at least and {most:g} at most; nothing is'
        where = entry.where("values", number, "at_least")
        yield Fault("C092", where, what, "Put the two in order.")


def _told_again(
    entry: Entry[RecordTemplate], number: int, value: RecordValue, told: dict[str, str]
) -> Iterator[Fault]:
    if value.tells is None:
        return
    where = entry.where("values", number, "tells")
    if value.tells in told:
        what = f"{value.tells} is told again; range and loads are computed from one measurement"
        yield Fault(
            "C093", where, what, f"Keep one of the two; the first is at {told[value.tells]}."
        )
    told.setdefault(value.tells, where)


def _unit(bound: Bound | None) -> str | None:
    return COMPUTED_UNITS[bound.of] if isinstance(bound, ComputedBound) else None
