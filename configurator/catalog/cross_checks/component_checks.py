"""Whether the data of components can be true."""

from __future__ import annotations

import math
from collections.abc import Iterator

from configurator.catalog.draft import Draft
from configurator.catalog.models.component import Charger, Component, Heater, Motor, Pack
from configurator.catalog.models.data import Source
from configurator.errors import Fault

GREATEST_MAINS_V_PER_PHASE = 250.0
GREATEST_RESISTIVE_COP = 1.0
DRAG_COEFFICIENTS = (0.2, 1.1)
"""Of closed and open bodies; handbook values, from memory."""

FRONT_FILLS = 0.85
"""Share of width times height that a body fills; common practice, no source."""


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


def _impossible(part: Component) -> Iterator[tuple[str, str, str]]:
    if isinstance(part, Motor):
        yield from _impossible_motor(part)
    if isinstance(part, Pack) and (part.continuous_discharge_kw or 0) > part.peak_discharge_kw:
        what = (
            f"gives {part.continuous_discharge_kw:g} kW for long but "
            f"{part.peak_discharge_kw:g} at peak"
        )
        yield "continuous_discharge_kw", what, "Exchange or correct the two."
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
    """Yield vehicles whose drag area does not go with the size of their front."""
    least, greatest = DRAG_COEFFICIENTS
    for entry in draft.vehicles:
        vehicle = entry.value
        front_m2 = FRONT_FILLS * vehicle.width_m * vehicle.height_m
        coefficient = vehicle.drag_area_m2.value / front_m2
        if not least <= coefficient <= greatest:
            what = (
                f"drag_area_m2 is {vehicle.drag_area_m2.value:g} on a frontal area of about "
                f"{front_m2:.1f} m²; that is a drag coefficient of {coefficient:.2f}, and bodies "
                f"have {least} to {greatest}"
            )
            where = entry.where("drag_area_m2", "value")
            remedy = "Multiply the drag coefficient by the frontal area [m²]."
            yield Fault("C070", where, what, remedy)
