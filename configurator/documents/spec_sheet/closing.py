"""How sure the figures are, the cautions, the receipt."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether

from configurator.build_spec.spec import Spec
from configurator.documents.character_note import character_note
from configurator.documents.headings import joined, sheet_heading
from configurator.documents.paragraphs import bullets
from configurator.documents.signature_lines import signature_lines
from configurator.documents.styles import CELL

CAUTIONS = (
    "A computed check is not an approval. Axle loads, range and electrical figures are confirmed "
    "on the finished vehicle by persons trained and licensed for it.",
    "Rules of law are quoted for information; the authority of your country decides. Local codes "
    "come first.",
    "Work on high voltage, brakes, steering, lifting and batteries can kill. It is done by "
    "competent persons only.",
)

HOW_KNOWN = (
    "Computed: from the catalog, the donor's weights and the choices above. Measured: read on the "
    "finished vehicle."
)


def closing_blocks(spec: Spec) -> list[Flowable]:
    """Close the sheet: sureness, cautions, receipt."""
    last = [
        sheet_heading("Cautions", "cautions"),
        *bullets(CAUTIONS, CELL),
        *character_note(spec),
        sheet_heading("Received and read", "receipt"),
        signature_lines(
            "This sheet describes a build; it is not a contract and not an invoice. A signature "
            f"here says only that it was received and read: {spec.build.reference}, "
            f"spec {spec.sha256()[:12]}."
        ),
    ]
    return [
        sheet_heading("How sure these figures are", "sureness"),
        *bullets((HOW_KNOWN, _prices(spec)), CELL),
        KeepTogether(joined(last)),
    ]


def _prices(spec: Spec) -> str:
    is_provisional = any(line.kind == "provisional" for line in spec.price.lines)
    change = "; provisional sums will change" if is_provisional else ""
    return (
        f"Prices are sums of the printed lines, to the penny{change}. What the price leaves out, "
        "the stage payments and the terms stand in the quotation."
    )
