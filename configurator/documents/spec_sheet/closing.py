"""How sure the figures are, the cautions, the receipt."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether, Table
from reportlab.platypus.tables import TableStyle

from configurator.build_spec.spec import Spec
from configurator.documents.character_note import character_note
from configurator.documents.colours import INK, rgb
from configurator.documents.headings import joined, sheet_heading
from configurator.documents.paragraphs import bullets, cell, words
from configurator.documents.safety_panel import WholeTable
from configurator.documents.styles import CELL, CELL_QUIET, TEXT_WIDTH
from configurator.documents.typeface import BODY

CAUTIONS = (
    "A computed check is not an approval. Axle loads, range and electrical figures are confirmed "
    "on the finished vehicle by persons trained and licensed for it.",
    "Rules of law are quoted for information; the authority of your country decides. Local codes "
    "come first.",
    "Work on high voltage, brakes, steering, lifting and batteries can kill. It is done by "
    "competent persons only.",
)

SURENESS = (
    "Computed: from the catalog, the donor's weights and the choices above. Measured: read on the "
    "finished vehicle.",
    "Prices are sums of the printed lines, to the penny; provisional sums will change. What the "
    "price leaves out, the stage payments and the terms stand in the quotation.",
)


def closing_blocks(spec: Spec) -> list[Flowable]:
    """Close the sheet: sureness, cautions, receipt."""
    last = [
        sheet_heading("Cautions", "cautions"),
        *bullets(CAUTIONS, CELL),
        *character_note(spec),
        sheet_heading("Received and read", "receipt"),
        receipt_table(spec),
    ]
    return [
        sheet_heading("How sure these figures are", "sureness"),
        *bullets(SURENESS, CELL),
        KeepTogether(joined(last)),
    ]


def receipt_table(spec: Spec) -> Table:
    """Lines to sign for having received and read the sheet; it is no contract."""
    note = cell(
        "This sheet describes a build; it is not a contract and not an invoice. A signature here "
        f"says only that it was received and read: {spec.build.reference}, "
        f"spec {spec.sha256()[:12]}."
    )
    style = TableStyle([
        ("FONTNAME", (0, 0), (-1, -1), BODY),
        ("SPAN", (0, 0), (-1, 0)),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, 0), 24),
        ("LINEABOVE", (0, 1), (0, 1), 0.8, rgb(INK)),
        ("LINEABOVE", (2, 1), (2, 1), 0.8, rgb(INK)),
        ("LINEABOVE", (4, 1), (4, 1), 0.8, rgb(INK)),
    ])  # fmt: skip
    labels = [words(label, CELL_QUIET) for label in ("Name", "Signature", "Date")]
    row = [labels[0], "", labels[1], "", labels[2]]
    widths = [TEXT_WIDTH * share for share in (0.34, 0.03, 0.36, 0.03, 0.24)]
    return WholeTable([[note, *[""] * 4], row], colWidths=widths, style=style, hAlign="LEFT")
