"""Whether the data of cables, fuses, contactors, inlets, modules and 12 V circuits can be true."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.draft import Draft
from configurator.catalog.models.component import Component, DcInlet, Pack
from configurator.catalog.models.main_circuit import MainContactor, MainFuse, TractionCable
from configurator.errors import Fault

CURRENT_DENSITY_A_PER_MM2 = (1.0, 25.0)
"""What copper in free air carries for long lies between; from memory, wide: thin cores carry more
for each square millimetre than thick ones."""


SAME_LOAD_W = 0.5
"""Loads nearer than this are the same."""


def main_circuit_faults(draft: Draft) -> Iterator[Fault]:
    """Yield parts of the main circuit whose values do not go together."""
    for entry in draft.components:
        for code, key, what, remedy in _impossible(entry.value):
            yield Fault(code, entry.where(key), f'"{entry.value.id}" {what}', remedy)


def low_voltage_faults(draft: Draft) -> Iterator[Fault]:
    """Yield vehicles whose 12 V circuits do not sum to their load, or share an id."""
    for entry in draft.vehicles:
        circuits, whole_w = entry.value.low_voltage_circuits, entry.value.base_low_voltage_load_w
        if not circuits:
            continue
        where, sum_w = entry.where("low_voltage_circuits"), sum(c.load_w for c in circuits)
        if abs(sum_w - whole_w) > SAME_LOAD_W:
            what = (
                f"the 12 V circuits take {sum_w:g} W together; base_low_voltage_load_w is "
                f"{whole_w:g}"
            )
            yield Fault("C075", where, what, "Correct a circuit's load_w, or the whole.")
        if len({circuit.id for circuit in circuits}) < len(circuits):
            what = "two 12 V circuits have one id"
            yield Fault("C075", where, what, "Give each circuit an id of its own.")


def _impossible(part: Component) -> Iterator[tuple[str, str, str, str]]:
    if isinstance(part, Pack):
        yield from _modules(part)
    elif isinstance(part, DcInlet):
        yield from _window(part)
    elif isinstance(part, TractionCable):
        yield from _density(part)
    elif isinstance(part, MainContactor) and part.peak_current_a < part.rated_current_a:
        what = (
            f"carries {part.rated_current_a:g} A for long but {part.peak_current_a:g} A at its peak"
        )
        yield "C070", "peak_current_a", what, "Exchange or correct the two."
    elif isinstance(part, MainFuse) and part.breaking_current_a <= part.rated_current_a:
        what = (
            f"is rated for {part.rated_current_a:g} A and breaks {part.breaking_current_a:g} A; "
            "a fuse breaks many times its rating"
        )
        yield "C070", "breaking_current_a", what, "Look up the greatest direct current it breaks."


def _modules(pack: Pack) -> Iterator[tuple[str, str, str, str]]:
    for key, cells, in_pack in (
        ("module_series", pack.module_series, pack.series),
        ("module_parallel", pack.module_parallel, pack.parallel),
    ):
        if cells is not None and in_pack % cells:
            what = f"has {key} {cells}, which does not divide its {in_pack} cells"
            yield "C070", key, what, "Count the cells in one module again."


def _window(inlet: DcInlet) -> Iterator[tuple[str, str, str, str]]:
    least_v, greatest_v = inlet.min_voltage_v, inlet.max_voltage_v
    if least_v is not None and greatest_v is not None and least_v >= greatest_v:
        what = (
            f"has min_voltage_v {least_v:g}, max_voltage_v {greatest_v:g}; "
            "each must be above the one before"
        )
        yield "C069", "min_voltage_v", what, "Look them up again, in volts."


def _density(cable: TractionCable) -> Iterator[tuple[str, str, str, str]]:
    least, greatest = CURRENT_DENSITY_A_PER_MM2
    per_mm2 = cable.rated_current_a.value / cable.area_mm2
    if not least <= per_mm2 <= greatest:
        what = (
            f"carries {per_mm2:.3g} A for each mm²; copper in free air lies from {least:g} "
            f"to {greatest:g}"
        )
        yield "C070", "rated_current_a", what, "Look up the area [mm²] and the current at 30 °C."
