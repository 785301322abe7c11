"""Table of contents: links that work, page numbers filled in at the end."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, Spacer

from configurator.documents.colours import INK, LINE, rgb
from configurator.documents.handover_pack.section import PackSection
from configurator.documents.headings import Heading
from configurator.documents.paragraphs import words
from configurator.documents.styles import SECTION, TEXT, LineStyle
from configurator.documents.typeface import BODY, BOLD

_ROW = 22.0
_NUMBER = LineStyle(BODY, 10.5, INK)


class ContentsRow(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """One section with its page, linked to it."""

    def __init__(self, number: int, section: PackSection) -> None:
        super().__init__()
        self.number = number
        self.section = section

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the width there is."""
        self.width = width
        self.height = _ROW
        return self.width, self.height

    def draw(self) -> None:
        """Draw number, title, page and link."""
        canvas, key = self.canv, self.section.key
        canvas.setFillColor(rgb(INK))
        canvas.setFont(BOLD, 10.5)
        canvas.drawRightString(20, 7, str(self.number))
        canvas.setFont(BODY, 10.5)
        canvas.drawString(32, 7, self.section.title)
        canvas.setStrokeColor(rgb(LINE))
        canvas.setLineWidth(0.5)
        canvas.line(0, 0.5, self.width, 0.5)
        canvas.draw_late(self.width - 4, 7, lambda: str(canvas.page_of[key]), _NUMBER)
        canvas.linkRect("", key, (0, 0, self.width, _ROW), relative=1, Border="[0 0 0]")


def contents_blocks(sections: Sequence[PackSection]) -> list[Flowable]:
    """List the sections after a heading."""
    rows = [ContentsRow(number, section) for number, section in enumerate(sections, start=1)]
    return [
        Heading("What is in this pack", SECTION, key="contents", level=0),
        words("The emergency sheet can be taken out: keep a copy behind the driver's visor.", TEXT),
        *rows,
        Spacer(1, 8),
        *_conventions(),
    ]


def _conventions() -> list[Flowable]:
    return [
        words(
            "Beside each figure stands whether it is computed or measured. A computed figure comes "
            "from the workshop's catalog and the choices made; a measured one was read on this "
            "vehicle. A computed check is not an approval."
        ),
    ]
