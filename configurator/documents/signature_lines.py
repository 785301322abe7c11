"""Lines to sign on: name, signature and date, with room to write above."""

from __future__ import annotations

from reportlab.platypus import Table
from reportlab.platypus.tables import TableStyle

from configurator.documents.colours import INK, rgb
from configurator.documents.paragraphs import cell, words
from configurator.documents.safety_panel import WholeTable
from configurator.documents.styles import CELL_QUIET, TEXT_WIDTH
from configurator.documents.typeface import BODY

_SHARES = (0.34, 0.03, 0.36, 0.03, 0.24)
_LINES = (0, 2, 4)


def signature_lines(what_is_signed: str) -> Table:
    """Make the lines for one person, below what their signature says; never divided."""
    style = TableStyle([
        ("FONTNAME", (0, 0), (-1, -1), BODY),
        ("SPAN", (0, 0), (-1, 0)),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, 0), 24),
        *(("LINEABOVE", (column, 1), (column, 1), 0.8, rgb(INK)) for column in _LINES),
    ])  # fmt: skip
    name, signature, date = (words(label, CELL_QUIET) for label in ("Name", "Signature", "Date"))
    return WholeTable(
        [[cell(what_is_signed), "", "", "", ""], [name, "", signature, "", date]],
        colWidths=[TEXT_WIDTH * share for share in _SHARES],
        style=style,
        hAlign="LEFT",
    )
