"""Weights, loads and tyres."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Tyre, Wheel
from configurator.catalog.models.rule import FactName
from configurator.documents.fact_rows import fact_rows
from configurator.documents.figures import number
from configurator.documents.handover_pack.axle_chart import axle_chart
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import small, words
from configurator.documents.tables import pairs_table
from configurator.documents.text_blocks import text_blocks
from configurator.documents.weight_details import loading_blocks, mass_drawing_blocks
from configurator.documents.weight_tables import axle_blocks

_FACTS: tuple[FactName, ...] = (
    "seats",
    "front_axle_margin_kg",
    "rear_axle_margin_kg",
)


def weight_blocks(spec: Spec) -> list[Flowable]:
    """Show axle loads with limits, what may be carried, tyres, then the workshop's texts."""
    load = [*_payload(spec), *fact_rows(spec, _FACTS)]
    return [
        words("Never load an axle or the vehicle beyond its limit. In doubt, use a weighbridge."),
        *axle_blocks(spec.weights),
        axle_chart(spec),
        *loading_blocks(spec),
        *mass_drawing_blocks(spec),
        *([subheading("What may be carried"), pairs_table(load)] if load else []),
        subheading("Tyres and wheels"),
        *_tyres(spec),
        *text_blocks(spec, "weights"),
    ]


def _payload(spec: Spec) -> list[tuple[str, str]]:
    """Tell one payload, by the least of all limits, so that nobody reads a greater one."""
    carrying = spec.weights.carrying
    if carrying is None:
        return fact_rows(spec, ("payload_kg",))
    known = "" if spec.weights.measured_kerb_kg is None else " from the weighed kerb mass"
    said = (
        f"{number(carrying.payload_kg)} ± {number(2 * carrying.payload_sigma_kg)} kg, "
        f"computed{known}, people on the seats first, then {carrying.place_label.lower()}; "
        f"what sets it is {carrying.limited_by}"
    )
    return [("Payload beside the driver", said)]


def _tyres(spec: Spec) -> list[Flowable]:
    rows: list[tuple[str, str]] = []
    tyre, wheel = spec.component("tyre"), spec.component("wheel")
    if isinstance(tyre, Tyre):
        rows += [
            ("Tyre", f"{tyre.label}, {tyre.size}"),
            ("Load index, speed symbol", f"{tyre.load_index} {tyre.speed_symbol}"),
            ("Pressure, front", f"{number(tyre.front_pressure_bar, 1)} bar, cold"),
            ("Pressure, rear", f"{number(tyre.rear_pressure_bar, 1)} bar, cold"),
        ]
    if isinstance(wheel, Wheel):
        rows.append(("Wheel", f"{wheel.label}, rated {number(wheel.rating_kg)} kg each"))
    if not rows:
        return [small("No tyre or wheel is stated by these choices; read the markings on them.")]
    return [pairs_table(rows), small("From the catalog; compare with the markings on the tyres.")]
