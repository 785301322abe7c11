"""High voltage: where it is, and that it is not to be touched."""

from __future__ import annotations

import math
from typing import Final

from reportlab.platypus import Flowable

from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.electrical_guarding import voltage_class
from configurator.build_spec.electrical_section import COMPETENT_PERSON
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Pack
from configurator.catalog.models.main_circuit import MainFuse, TractionCable
from configurator.catalog.models.text import SafetyMessage
from configurator.documents.electrical_tables import check_figure
from configurator.documents.figures import number
from configurator.documents.paragraphs import small, words
from configurator.documents.safety_panel import safety_panel
from configurator.documents.tables import headed_table, pairs_table
from configurator.documents.text_blocks import text_blocks

CLASS_WORDS: Final = {"A": "A: up to 60 V", "B": "B: above 60 V direct voltage"}
"""Source: UN Regulation No. 100 and ISO 6469-3."""

_HIGH_VOLTAGE_EMBLEMS = (
    "traction-battery",
    "motor",
    "charger",
    "charging-inlet",
    "high-voltage-cable",
    "service-disconnect",
    "heater",
)


def high_voltage_blocks(spec: Spec) -> list[Flowable]:
    """Print the warning, the voltages, the places, then the workshop's texts."""
    return [
        words("Parts of the drive are dangerous to life even when the vehicle stands still."),
        *voltage_panels(spec),
        *_voltage_table(spec),
        *_place_table(spec),
        *text_blocks(spec, "high-voltage"),
    ]


def voltage_panels(spec: Spec) -> list[Flowable]:
    """Warn of the voltage of the fitted battery; nothing when none is fitted."""
    pack = spec.component("pack")
    if not isinstance(pack, Pack):
        return []
    message = SafetyMessage(
        signal="danger" if voltage_class(pack.full_voltage_v) == "B" else "warning",
        hazard=(
            f"The battery and everything joined to it carry up to {number(pack.full_voltage_v)} V "
            "direct voltage (computed), also when the vehicle is switched off."
        ),
        consequence="Touching live parts gives an electric shock, burns, and death.",
        avoid=(
            "Open no cover that is marked, and touch or cut no orange cable.",
            "Keep water jets, jacks and drills away from the battery box.",
            "Leave work on the drive to persons trained and licensed for high voltage.",
        ),
    )
    return [safety_panel(message)]


def _voltage_table(spec: Spec) -> list[Flowable]:
    pack = spec.component("pack")
    if not isinstance(pack, Pack):
        return [small("No drive battery is fitted.")]
    rows = [
        ("Full", f"{number(pack.full_voltage_v)} V, computed"),
        ("Nominal", f"{number(pack.nominal_voltage_v)} V, computed"),
        ("Empty", f"{number(pack.empty_voltage_v)} V, computed"),
        ("Voltage class", CLASS_WORDS[voltage_class(pack.full_voltage_v)]),
        *_main_circuit_rows(spec),
    ]
    return [pairs_table(rows), words(COMPETENT_PERSON)]


def _main_circuit_rows(spec: Spec) -> list[tuple[str, str]]:
    """Tell what a garage asks for: fuse, cables, disconnect, voltage after switching off."""
    fuse, cable = spec.component("main_fuse"), spec.component("traction_cable")
    rows = []
    if isinstance(fuse, MainFuse):
        ratings = f"{number(fuse.rated_current_a)} A, {number(fuse.rated_voltage_v)} V"
        rows.append(("Main fuse", f"{ratings} direct voltage, as specified; no other rating"))
    if isinstance(cable, TractionCable):
        area = f"{number(cable.area_mm2)} mm², up to {number(cable.rated_voltage_v)} V"
        rows.append(("High-voltage cables", f"{area}, orange, as specified"))
    places = [line.place_label for line in spec.ledger if line.emblem == "service-disconnect"]
    if places:
        rows.append(("Service disconnect", f"{listed(places)}; for competent persons"))
    if (bleed := spec.fact("bleed_seconds")) is not None:
        seconds = f"{number(math.ceil(bleed.high))} s"
        rows.append(
            (
                "60 V or less after",
                f"{seconds}, computed for a sound inverter; wait longer and test",
            )
        )
    return rows + [
        (check.label, f"at least {check_figure(check, check.bound)}{_measured(check)}")
        for check in spec.electrical
        if check.id.startswith("isolation-")
    ]


def _measured(check: ElectricalCheck) -> str:
    return f"; on this vehicle: {check.recorded}" if check.recorded else ", to be measured"


def _place_table(spec: Spec) -> list[Flowable]:
    rows = [
        (line.what, line.place_label)
        for line in spec.ledger
        if line.emblem in _HIGH_VOLTAGE_EMBLEMS
    ]
    if not rows:
        return []
    return [headed_table(("Part that may be live", "Where it is"), rows, (0.5, 0.5))]
