"""Charging: sockets, power and times."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.charging_words import CHARGING_CARE, COLD_CELLS
from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Charger, DcInlet
from configurator.documents.charging_table import charging_blocks
from configurator.documents.figures import number
from configurator.documents.paragraphs import small
from configurator.documents.safety_panel import safety_panel
from configurator.documents.tables import pairs_table
from configurator.documents.text_blocks import text_blocks

_PHASES = {1: "one phase", 3: "three phases"}


def charging_section_blocks(spec: Spec) -> list[Flowable]:
    """Show what is fitted for charging, the times, then the workshop's texts."""
    return [
        *_fitted(spec),
        safety_panel(CHARGING_CARE),
        safety_panel(COLD_CELLS),
        *charging_blocks(spec.charging),
        *text_blocks(spec, "charging"),
    ]


def _fitted(spec: Spec) -> list[Flowable]:
    rows: list[tuple[str, str]] = []
    charger, inlet = spec.component("charger"), spec.component("dc_inlet")
    if isinstance(charger, Charger):
        power = f"{number(charger.ac_power_kw, 1)} kW on {_PHASES[charger.phases]}"
        rows += [
            ("On-board charger", f"{charger.label}, {power}, {number(charger.max_current_a)} A"),
            ("Label at socket and plug", f"{charger.socket_label} (EN 17186)"),
        ]
    if isinstance(inlet, DcInlet):
        rows += [
            ("Rapid charging", f"{inlet.label}, up to {number(inlet.max_power_kw)} kW"),
            ("Label at socket and plug", f"{inlet.socket_label} (EN 17186)"),
        ]
    if not rows:
        return [small("No charger is stated by these choices.")]
    return [pairs_table(rows), small("From the catalog. Use a plug only where the labels match.")]
