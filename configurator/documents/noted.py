"""A table with the note below it, which never stands alone at the head of the next page."""

from __future__ import annotations

from reportlab.platypus import Flowable, Paragraph, Table

_SHORT = 150.0
"""A table with its note up to this height [pt] moves to the next page whole."""


class Noted(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """A table and its note: where they are divided, a row at least goes along with the note."""

    def __init__(self, table: Table, note: Paragraph) -> None:
        super().__init__()
        self.table = table
        self.note = note

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Measure; `height` [pt] is what is left on the page."""
        self.table_height = self.table.wrapOn(self.canv, width, height)[1]
        self.note_height = self.note.wrapOn(self.canv, width, height)[1]
        self.width = width
        self.height = self.table_height + self._gap() + self.note_height
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Divide the table, and leave its last rows with the note."""
        self.wrap(width, height)
        if self.height <= _SHORT:
            return []
        room = min(height, self.table_height - 1)
        pieces = self.table.splitOn(self.canv, width, room)
        if not pieces:
            return []
        return [*pieces[:-1], Noted(pieces[-1], self.note)]

    def draw(self) -> None:
        """Draw from the top down."""
        self.table.drawOn(self.canv, 0, self.height - self.table_height)
        self.note.drawOn(self.canv, 0, 0)

    def getSpaceBefore(self) -> float:  # noqa: N802  a name of ReportLab
        """Space wanted above [pt]."""
        return float(self.table.getSpaceBefore())

    def getSpaceAfter(self) -> float:  # noqa: N802  a name of ReportLab
        """Space wanted below [pt]."""
        return float(self.note.getSpaceAfter())

    def _gap(self) -> float:
        return float(max(self.table.getSpaceAfter(), self.note.getSpaceBefore()))
