"""The battery, laying up and storage."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import AsBuilt, MeasuredRecord
from configurator.catalog.models.component import Pack
from configurator.documents.fact_rows import fact_rows
from configurator.documents.figures import day, number
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table, room_to_write
from configurator.documents.text_blocks import text_blocks

LATER_YEARS = (1, 2, 4)
"""The capacity is measured again after so many years, with room to write it in."""


def battery_blocks(spec: Spec) -> list[Flowable]:
    """Tell what the battery is and what it was measured to hold, then the workshop's texts."""
    pack = spec.component("pack")
    if not isinstance(pack, Pack):
        fitted: list[Flowable] = [small("No drive battery is fitted by these choices.")]
    else:
        fitted = [_table(spec, pack), *_used_modules_note(pack), *_capacity_on_record(spec)]
    return [*fitted, *text_blocks(spec, "battery")]


def _table(spec: Spec, pack: Pack) -> Flowable:
    as_built = spec.build.as_built
    measured = as_built.pack_capacity_kwh if as_built else None
    sigma = number(pack.capacity_sigma_percent, 1)
    rows = [
        ("Battery", pack.label, "", ""),
        ("Modules", f"{pack.module_label}, {pack.modules_are}, {pack.chemistry}", "", ""),
        ("Arrangement", f"{pack.series} in series, {pack.parallel} in parallel", "", ""),
        (
            "Capacity",
            f"{number(pack.capacity_kwh, 1)} kWh ± {sigma} %",
            "computed",
            f"{number(measured, 1)} kWh" if measured is not None else "not yet measured",
        ),
        *_usable(spec, as_built),
        ("Voltage, full", f"{number(pack.full_voltage_v)} V", "computed", ""),
        (
            "Counted as aged",
            f"{number(pack.aged_capacity_percent)} % of the capacity",
            "assumed",
            "",
        ),
    ]  # fmt: skip
    return headed_table(
        ("", "As specified", "How known", "Measured"), rows, (0.2, 0.42, 0.16, 0.22)
    )


def _usable(spec: Spec, built: AsBuilt | None) -> Iterator[tuple[str, str, str, str]]:
    """Tell the usable energy, and once the capacity was measured that which follows from it."""
    for label, told in fact_rows(spec, ("usable_energy_kwh",)):
        figure = told.removesuffix(", computed")
        if built is None or built.pack_capacity_kwh is None:
            yield label, figure, "computed", ""
            continue
        ordered = (fact for fact in built.ordered if fact.name == "usable_energy_kwh")
        promised = next((f"{number(fact.low, 1)} kWh" for fact in ordered), "")
        yield label, promised, "computed", f"{figure}, computed from it"


def _used_modules_note(pack: Pack) -> list[Flowable]:
    if pack.modules_are == "new":
        return []
    return [
        small(
            "The modules were used before. Only the measured capacity of the weakest group of "
            "cells, with date, method and temperature, describes them; the figure computed above "
            "does not."
        )
    ]


def _capacity_on_record(spec: Spec) -> list[Flowable]:
    later = [(f"year {year}", "", room_to_write(), "") for year in LATER_YEARS]
    head = ("", "Day", "Whole pack, weakest group, method, temperature", "Instrument, by")
    return [
        subheading("Capacity on record"),
        headed_table(head, [_at_handover(spec.build.as_built), *later], (0.13, 0.15, 0.45, 0.27)),
    ]


def _at_handover(built: AsBuilt | None) -> tuple[str | Flowable, ...]:
    if built is None or built.pack_capacity_kwh is None:
        return ("at handover", "", room_to_write(), "")
    record = next((found for found in built.records if "pack-capacity-kwh" in found.tells), None)
    if record is None:
        return ("at handover", "", f"{number(built.pack_capacity_kwh, 1)} kWh", "")
    return ("at handover", day(record.measured_on), record.value, _by(record))


def _by(record: MeasuredRecord) -> str:
    return f"{record.instrument}, {record.by}" if record.instrument else record.by
