"""The 12 V budget: all loads together against the converter, and what it takes from the battery."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from configurator.build_spec.electrical_check import (
    DATA_SHEETS,
    FIRST_PRINCIPLES,
    PRACTICE,
    CheckWords,
    ElectricalCheck,
    asked_for,
)
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.catalog.models.component import Converter
from configurator.physics.electrical_sizing import converter_input_a

LOW_VOLTAGE = "12 V supply"

LOW_VOLTAGE_V = 13.8
"""Of the 12 V side while the converter feeds it [V]; common practice, no source."""


class CircuitLoad(NamedTuple):
    """What the vehicle's own circuits, or one option, take on the 12 V side."""

    id: str
    label: str
    load_w: float


_LOAD = CheckWords("load", LOW_VOLTAGE, "", "W", "as stated, all on at once", DATA_SHEETS)
_TOTAL = CheckWords(
    "low-voltage-total",
    LOW_VOLTAGE,
    "All of them, against the converter",
    "W",
    "the sum",
    f"{FIRST_PRINCIPLES}; {DATA_SHEETS}",
    0,
    "at most",
)
_CURRENT = CheckWords(
    "low-voltage-current",
    LOW_VOLTAGE,
    "Current on the 12 V side",
    "A",
    f"the sum by {LOW_VOLTAGE_V:g} V",
    PRACTICE,
)
_FROM_BATTERY = CheckWords(
    "low-voltage-from-battery",
    LOW_VOLTAGE,
    "Taken from the drive battery",
    "A",
    "the sum by the converter's efficiency by the nominal voltage",
    FIRST_PRINCIPLES,
    1,
)


def low_voltage_checks(
    fitted: ElectricalSet, loads: Sequence[CircuitLoad], spare_w: float
) -> Iterator[ElectricalCheck]:
    """Add the 12 V loads and hold them against the converter.

    Parameters
    ----------
    fitted : ElectricalSet
        What is fitted.
    loads : sequence of CircuitLoad
        Of the vehicle's own circuits and of each option with one.
    spare_w : float
        What a limit of the catalog asks to be left [W].
    """
    for load in loads:
        yield replace(_LOAD, id=f"low-voltage-{load.id}", label=load.label).told(load.load_w)
    total_w = sum(load.load_w for load in loads)
    converter, pack = fitted.parts.get("converter", Converter), fitted.pack
    missing = "a 12 V converter"
    yield _TOTAL.also(asked_for(spare_w, "W")).against(
        total_w, None if converter is None else converter.rating_w - spare_w, missing
    )
    yield _CURRENT.told(total_w / LOW_VOLTAGE_V)
    taken_a = None
    if converter is not None and pack is not None:
        taken_a = converter_input_a(
            load_w=max(total_w, 0.0),
            efficiency=converter.efficiency,
            voltage_v=pack.nominal_voltage_v,
        )
    yield _FROM_BATTERY.told(taken_a, missing)
