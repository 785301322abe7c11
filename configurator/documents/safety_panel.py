"""Safety panels: a signal word with its mark, then hazard, consequence and how to avoid it."""

from __future__ import annotations

from typing import Final

from reportlab.platypus import Flowable, Paragraph, Table
from reportlab.platypus.tables import TableStyle

from configurator.catalog.models.text import SafetyMessage, SignalWord
from configurator.documents.colours import INK, PAPER, SIGNAL_BANDS, rgb
from configurator.documents.glyphs import markup, prose
from configurator.documents.styles import CELL, TEXT_WIDTH
from configurator.documents.typeface import BODY, BOLD

SIGNAL_MEANINGS: Final[dict[SignalWord, str]] = {
    "danger": "Death or serious injury will follow if it is not avoided.",
    "warning": "Death or serious injury could follow if it is not avoided.",
    "caution": "Minor or moderate injury could follow if it is not avoided.",
    "notice": "Damage to the vehicle or to other things could follow.",
}
"""After ANSI Z535.6 and ISO 3864-2, from memory."""

_MARK_SIZE = 12.0
_GREATEST_UNDIVIDED = 600.0
"""A panel higher than this [pt] may go over two pages; a lower one stays whole."""


class WholeTable(Table):  # type: ignore[misc]  # ReportLab is untyped
    """A table that moves to the next page rather than be divided, unless it is very high."""

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803  ReportLab
        """Divide only what could hardly fit on a page of its own."""
        self._calc(availWidth, availHeight)
        if self._height <= _GREATEST_UNDIVIDED:
            return []
        return list(super().split(availWidth, availHeight))


class SignalBand(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """The signal word in its colour, with a mark of our own: a triangle, or a ring for notice."""

    def __init__(self, signal: SignalWord) -> None:
        super().__init__()
        self.signal = signal
        self.height = 15.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the width there is."""
        self.width = width
        return self.width, self.height

    def draw(self) -> None:
        """Draw the mark and the word; the ground is the table's."""
        _, ink = SIGNAL_BANDS[self.signal]
        canvas = self.canv
        canvas.setStrokeColor(rgb(ink))
        canvas.setFillColor(rgb(ink))
        canvas.setLineWidth(1.3)
        canvas.setLineJoin(1)
        if self.signal == "notice":
            canvas.circle(_MARK_SIZE / 2, 7.2, _MARK_SIZE / 2 - 0.4, stroke=1, fill=0)
        else:
            path = canvas.beginPath()
            path.moveTo(0, 1.6)
            path.lineTo(_MARK_SIZE, 1.6)
            path.lineTo(_MARK_SIZE / 2, 12.6)
            path.close()
            canvas.drawPath(path, stroke=1, fill=0)
        canvas.setFont(BOLD, 8)
        canvas.drawCentredString(_MARK_SIZE / 2, 3.6, "i" if self.signal == "notice" else "!")
        canvas.setFont(BOLD, 11.5)
        canvas.drawString(_MARK_SIZE + 7, 3.4, self.signal.upper())


def safety_panel(message: SafetyMessage, *, width: float = TEXT_WIDTH) -> Table:
    """Make the panel of a safety message.

    Parameters
    ----------
    message : SafetyMessage
        Signal word, hazard, consequence and how to avoid it.
    width : float
        Of the panel [pt].

    Returns
    -------
    Table
        Kept whole on a page.
    """
    avoid = message.avoid if len(message.avoid) > 1 else ()
    return _panel(
        message.signal,
        [
            _said("Hazard", message.hazard),
            _said("What can happen", message.consequence),
            _said("How to avoid it", "" if avoid else message.avoid[0]),
            *(Paragraph(prose(step), _STEP, bulletText="•") for step in avoid),
        ],
        width,
    )


def signal_word_panel(signal: SignalWord, *, width: float = TEXT_WIDTH) -> Table:
    """Show a signal word with its meaning, as the pack explains it to the reader."""
    return _panel(signal, [Paragraph(markup(SIGNAL_MEANINGS[signal]), CELL)], width)


_SAID = CELL.clone("panel-words", spaceAfter=2)
_STEP = CELL.clone("panel-step", leftIndent=14, bulletIndent=3, spaceAfter=1)


def _said(label: str, text: str) -> Paragraph:
    return Paragraph(f"<b>{label}:</b> {prose(text)}", _SAID)


def _panel(signal: SignalWord, content: list[Flowable], width: float) -> Table:
    band, _ = SIGNAL_BANDS[signal]
    return WholeTable(
        [[SignalBand(signal)], [content]],
        colWidths=[width],
        style=TableStyle([
            ("FONTNAME", (0, 0), (-1, -1), BODY),
            ("BACKGROUND", (0, 0), (0, 0), rgb(band)),
            ("BACKGROUND", (0, 1), (0, -1), rgb(PAPER)),
            ("BOX", (0, 0), (-1, -1), 0.8, rgb(INK)),
            ("LEFTPADDING", (0, 0), (-1, -1), 8),
            ("RIGHTPADDING", (0, 0), (-1, -1), 8),
            ("TOPPADDING", (0, 0), (0, 0), 3),
            ("BOTTOMPADDING", (0, 0), (0, 0), 3),
            ("TOPPADDING", (0, 1), (0, -1), 5),
            ("BOTTOMPADDING", (0, 1), (0, -1), 6),
        ]),
        repeatRows=1,
        splitInRow=1,
        spaceBefore=4,
        spaceAfter=9,
        hAlign="LEFT",
    )  # fmt: skip
