"""Whether the data of components can be true."""

from __future__ import annotations

import math
from collections.abc import Iterator

from configurator.catalog.draft import Draft
from configurator.catalog.models.component import Charger, Component, Heater, Motor, Pack, Tyre
from configurator.catalog.models.data import Source
from configurator.catalog.models_from_yaml import Entry
from configurator.errors import Fault

GREATEST_MAINS_V_PER_PHASE = 250.0
GREATEST_RESISTIVE_COP = 1.0
LEAST_ROLLING_RESISTANCE = 0.004
GREATEST_ROLLING_RESISTANCE = 0.05
DRAG_AREAS_M2 = (0.3, 4.0)


def voltage_faults(draft: Draft) -> Iterator[Fault]:
    """Yield voltages that are not in order from low to high."""
    for entry in draft.components:
        part = entry.value
        if isinstance(part, Pack):
            keys: tuple[str, ...] = ("empty_voltage_v", "nominal_voltage_v", "full_voltage_v")
        elif isinstance(part, Motor | Charger):
            keys = ("min_voltage_v", "max_voltage_v")
        else:
            continue
        values = [getattr(part, key) for key in keys]
        if values != sorted(set(values)):
            said = ", ".join(f"{key} {value:g}" for key, value in zip(keys, values, strict=True))
            what = f'"{part.id}" has {said}; each must be above the one before'
            yield Fault("C069", entry.where(keys[0]), what, "Look them up again, in volts.")


def power_faults(draft: Draft) -> Iterator[Fault]:
    """Yield powers, efficiencies and coefficients that cannot be."""
    for entry in draft.components:
        for key, what, remedy in _impossible(entry.value):
            yield Fault("C070", entry.where(key), f'"{entry.value.id}" {what}', remedy)
        yield from _efficiency_faults(entry)


def _impossible(part: Component) -> Iterator[tuple[str, str, str]]:
    if isinstance(part, Motor):
        yield from _impossible_motor(part)
    if isinstance(part, Charger):
        greatest_kw = GREATEST_MAINS_V_PER_PHASE * part.max_current_a * part.phases / 1000
        if part.ac_power_kw > greatest_kw:
            what = (
                f"takes {part.ac_power_kw:g} kW, but its current allows {greatest_kw:.1f} at most"
            )
            yield "ac_power_kw", what, "Look power, current and phases up again."
    if isinstance(part, Heater) and part.works_by == "resistive":
        best = max(part.coefficient_of_performance.values())
        if best > GREATEST_RESISTIVE_COP:
            what = f"is resistive and gives {best:g} of heat per electricity; it cannot exceed 1"
            yield "coefficient_of_performance", what, 'Correct it, or say "works_by: heat-pump".'
    if isinstance(part, Tyre):
        value = part.rolling_resistance.value
        if not LEAST_ROLLING_RESISTANCE <= value <= GREATEST_ROLLING_RESISTANCE:
            what = f"has a rolling resistance of {value:g}; tyres on roads lie from 0.004 to 0.05"
            yield "rolling_resistance", what, "Write newtons per newton, such as 0.012."


def _impossible_motor(motor: Motor) -> Iterator[tuple[str, str, str]]:
    if motor.continuous_power_kw > motor.peak_power_kw:
        what = (
            f"gives {motor.continuous_power_kw:g} kW for long but {motor.peak_power_kw:g} at peak"
        )
        yield "continuous_power_kw", what, "Exchange or correct the two."
    greatest_kw = motor.peak_torque_nm * motor.max_speed_rpm * 2 * math.pi / 60 / 1000
    if motor.peak_power_kw > greatest_kw:
        what = (
            f"gives {motor.peak_power_kw:g} kW at peak, but torque and speed allow "
            f"{greatest_kw:.1f} at most"
        )
        yield "peak_power_kw", what, "Look power, torque and speed up again."


def _efficiency_faults(entry: Entry[Component]) -> Iterator[Fault]:
    for key in ("efficiency", "recovery_efficiency"):
        value = getattr(getattr(entry.value, key, None), "value", None)
        if isinstance(value, float) and not 0 < value <= 1:
            where = entry.where(key, "value")
            what = f"{key} is {value:g}; it must be above 0 and at most 1"
            if 1 < value <= 100:
                remedy = f"Write {value / 100:g}."
                yield Fault("C024", where, f"{what}, and this looks like percent", remedy)
            else:
                yield Fault("C070", where, what, "Write a share of 1, such as 0.92.")


def used_pack_faults(draft: Draft) -> Iterator[Fault]:
    """Yield packs of used modules that do not say where their capacity comes from."""
    for entry in draft.components:
        part = entry.value
        if isinstance(part, Pack) and part.modules_are == "used":
            source = part.source.title if isinstance(part.source, Source) else part.source
            if "no source" in source.lower():
                what = f'"{part.id}" has used modules and no source of its capacity'
                remedy = "Say who measured it, how and when."
                yield Fault(
                    "C071", entry.where("source"), f"{what}; age shows only when measured", remedy
                )


def drag_faults(draft: Draft) -> Iterator[Fault]:
    """Yield vehicles with a drag area that no road vehicle has."""
    least, greatest = DRAG_AREAS_M2
    for entry in draft.vehicles:
        value = entry.value.drag_area_m2.value
        if not least <= value <= greatest:
            what = f"drag_area_m2 is {value:g}; road vehicles lie from {least} to {greatest}"
            where = entry.where("drag_area_m2", "value")
            yield Fault(
                "C070", where, what, "Multiply the drag coefficient by the frontal area [m²]."
            )
