"""High voltage: where it is, and that it is not to be touched."""

from __future__ import annotations

from typing import Final

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Pack
from configurator.catalog.models.text import SafetyMessage
from configurator.documents.figures import number
from configurator.documents.paragraphs import small, words
from configurator.documents.safety_panel import safety_panel
from configurator.documents.tables import headed_table, pairs_table
from configurator.documents.text_blocks import text_blocks

CLASS_B_ABOVE_V: Final = 60.0
"""Direct voltage above which a circuit is of voltage class B. Source: UN Regulation No. 100 and
ISO 6469-3, from memory."""

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
        signal="danger" if pack.full_voltage_v > CLASS_B_ABOVE_V else "warning",
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
    is_class_b = pack.full_voltage_v > CLASS_B_ABOVE_V
    rows = [
        ("Full", f"{number(pack.full_voltage_v)} V, computed"),
        ("Nominal", f"{number(pack.nominal_voltage_v)} V, computed"),
        ("Empty", f"{number(pack.empty_voltage_v)} V, computed"),
        ("Voltage class", "B: above 60 V direct voltage" if is_class_b else "A: up to 60 V"),
    ]
    return [pairs_table(rows)]


def _place_table(spec: Spec) -> list[Flowable]:
    rows = [
        (line.what, line.place_label)
        for line in spec.ledger
        if line.emblem in _HIGH_VOLTAGE_EMBLEMS
    ]
    if not rows:
        return []
    return [headed_table(("Part that may be live", "Where it is"), rows, (0.5, 0.5))]
