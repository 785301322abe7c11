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
from configurator.catalog.models.vehicle import LowVoltageCircuit
from configurator.physics.electrical_sizing import (
    FUSE_SHARE,
    cable_resistance_ohm,
    converter_input_a,
)

LOW_VOLTAGE = "12 V supply"
CIRCUITS = "Wires and fuses of the 12 V side"

LOW_VOLTAGE_V = 13.8
"""Of the 12 V side while the converter feeds it [V]; common practice, no source."""

WIRE_C = 60.0
"""Of a wire in its loom, under load [°C]; common practice, no source."""

GREATEST_DROP_V = 0.5
"""Along a 12 V circuit, there and back [V]; common practice, no source."""


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


_DROP = CheckWords(
    "drop",
    CIRCUITS,
    "drop there and back",
    "V",
    f"load by {LOW_VOLTAGE_V:g} V, times the resistance of the copper at {WIRE_C:g} °C",
    f"IEC 60028 for copper; {PRACTICE}, for half a volt",
    2,
    "at most",
)
_FUSE = CheckWords(
    "fuse",
    CIRCUITS,
    "fuse",
    "A",
    f"bound: {FUSE_SHARE:g} times the current; the wire's maker says what the wire bears",
    PRACTICE,
    1,
    "at least",
)


def circuit_checks(circuits: Sequence[LowVoltageCircuit]) -> Iterator[ElectricalCheck]:
    """Hold the wires and fuses of the vehicle's own 12 V circuits, where they are stated."""
    for circuit in circuits:
        if circuit.area_mm2 is not None and circuit.run_m is not None:
            ohm = cable_resistance_ohm(
                length_m=2 * circuit.run_m, area_mm2=circuit.area_mm2, conductor_c=WIRE_C
            )
            yield _of(circuit, _DROP).against(_current_a(circuit) * ohm, GREATEST_DROP_V)
    for circuit in circuits:
        if circuit.fuse_a is not None:
            yield _of(circuit, _FUSE).against(circuit.fuse_a, FUSE_SHARE * _current_a(circuit))


def _current_a(circuit: LowVoltageCircuit) -> float:
    return circuit.load_w / LOW_VOLTAGE_V


def _of(circuit: LowVoltageCircuit, words: CheckWords) -> CheckWords:
    return replace(
        words,
        id=f"low-voltage-{circuit.id}-{words.id}",
        label=f"{circuit.label}, {words.label}",
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
    yield _FROM_BATTERY.told(taken_a, missing if converter is None else "a battery")
