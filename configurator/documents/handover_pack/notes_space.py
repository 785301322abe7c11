"""Ruled lines for the owner's notes, where a page would otherwise stay nearly empty."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.documents.colours import LINE, QUIET_INK, rgb
from configurator.documents.typeface import BOLD

_LEAST_ROOM = 200.0
_LINE_GAP = 22.0
_TOP_GAP = 26.0


class NotesSpace(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """Fills what is left of a page with lines to write on; takes no room when little is left."""

    # Asked even on a page that is full to the brim; otherwise it would begin a page of its own.
    _ZEROSIZE = True

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take all the height there is, or none of it.

        The space after the last paragraph may reach below the page; then `height` is negative.
        """
        self.width = width
        self.height = height - 1 if height > _LEAST_ROOM else min(height, 0.0)
        return self.width, self.height

    def draw(self) -> None:
        """Draw the lines under a small heading."""
        if self.height <= 0:
            return
        canvas = self.canv
        top = self.height - _TOP_GAP
        canvas.setFillColor(rgb(QUIET_INK))
        canvas.setFont(BOLD, 9)
        canvas.drawString(0, top, "Your notes")
        canvas.setStrokeColor(rgb(LINE))
        canvas.setLineWidth(0.6)
        y = top - _LINE_GAP
        while y > 4:
            canvas.line(0, y, self.width, y)
            y -= _LINE_GAP
