"""Tables in the documents' look: heads repeated over pages, rows divided when they must be."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TypeAlias

from reportlab.platypus import Flowable, Spacer, Table
from reportlab.platypus.tables import TableStyle

from configurator.documents.colours import INK, LINE, TINT, rgb
from configurator.documents.paragraphs import cell
from configurator.documents.styles import (
    CELL,
    CELL_STRONG,
    COLUMN_HEAD,
    FIGURE,
    FIGURE_HEAD,
    FIGURE_STRONG,
    TEXT_WIDTH,
)
from configurator.documents.typeface import BODY

Content: TypeAlias = str | Flowable

_PLAIN = [
    ("FONTNAME", (0, 0), (-1, -1), BODY),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 5),
    ("RIGHTPADDING", (0, 0), (-1, -1), 5),
    ("TOPPADDING", (0, 0), (-1, -1), 1.4),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.0),
]
_RULED = [
    ("LINEBELOW", (0, 0), (-1, -1), 0.5, rgb(LINE)),
    ("LINEABOVE", (0, 0), (-1, 0), 0.5, rgb(LINE)),
]
_HEADED = [
    ("BACKGROUND", (0, 0), (-1, 0), rgb(TINT)),
    ("LINEBELOW", (0, 0), (-1, 0), 0.9, rgb(INK)),
]
_TOTAL = [
    ("LINEABOVE", (0, -1), (-1, -1), 0.9, rgb(INK)),
    ("LINEBELOW", (0, -1), (-1, -1), 0.9, rgb(INK)),
]


_GREATEST_UNDIVIDED = 400.0
"""A row higher than this [pt] may be divided within; it might fit on no page."""


class RowsKeptWhole(Table):  # type: ignore[misc]  # ReportLab is untyped
    """A table divided between its rows; within one only where it is very high."""

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803  ReportLab
        """Divide between rows; with no room for the first, divide nothing, so that it moves on."""
        self._calc(availWidth, availHeight)
        first = self._rowHeights[self.repeatRows : self.repeatRows + 1]
        self.splitInRow = int(sum(first) > _GREATEST_UNDIVIDED)
        return list(super().split(availWidth, availHeight))


def headed_table(
    head: Sequence[str],
    rows: Sequence[Sequence[Content]],
    shares: Sequence[float],
    *,
    figures: Collection[int] = (),
    strong: Collection[int] = (),
    has_total: bool = False,
    width: float = TEXT_WIDTH,
) -> Table:
    """Make a table with a head that repeats on each page.

    Parameters
    ----------
    head : sequence of str, shape (k,)
        A label for each column.
    rows : sequence of sequence of str or Flowable, shape (n, k)
        Plain text is escaped and wrapped.
    shares : sequence of float, shape (k,)
        Widths of the columns relative to each other.
    figures : collection of int
        Columns set flush right.
    strong : collection of int
        Columns set in bold.
    has_total : bool
        Whether the last row is a total.
    width : float
        Of the whole table [pt].

    Returns
    -------
    Table
        That may be divided over pages, if needed within a row.
    """
    last = len(rows) - 1 if has_total else -1
    body = [
        [_content(value, c in figures, c in strong or r == last) for c, value in enumerate(row)]
        for r, row in enumerate(rows)
    ]
    top = [
        cell(label, FIGURE_HEAD if c in figures else COLUMN_HEAD) for c, label in enumerate(head)
    ]
    style = [*_PLAIN, *_RULED, *_HEADED, *(_TOTAL if has_total else [])]
    return _table([top, *body], shares, style, width, heads=1)


def pairs_table(
    rows: Sequence[tuple[str, Content]], *, share: float = 0.32, width: float = TEXT_WIDTH
) -> Table:
    """Make a table of labels with what belongs to each."""
    body = [[cell(label, CELL_STRONG), _content(value, False, False)] for label, value in rows]
    return _table(body, (share, 1 - share), [*_PLAIN, *_RULED], width, heads=0)


def fill_in_table(
    head: Sequence[str], shares: Sequence[float], rows: int, *, width: float = TEXT_WIDTH
) -> Table:
    """Make a table of empty rows, high enough to write in."""
    top = [cell(label, COLUMN_HEAD) for label in head]
    blank = [[""] * len(head) for _ in range(rows)]
    lines = [("GRID", (0, 0), (-1, -1), 0.5, rgb(LINE)), *_HEADED]
    heights = [None, *([24.0] * rows)]
    return _table([top, *blank], shares, [*_PLAIN, *lines], width, heads=1, heights=heights)


def room_to_write(height: float = 19.0) -> Flowable:
    """Make an empty cell that keeps its row high enough for handwriting [pt]."""
    return Spacer(1, height)


def _content(value: Content, is_figure: bool, is_strong: bool) -> Flowable:
    if isinstance(value, Flowable):
        return value
    styles = {
        (False, False): CELL,
        (False, True): CELL_STRONG,
        (True, False): FIGURE,
        (True, True): FIGURE_STRONG,
    }
    return cell(value, styles[is_figure, is_strong])


def _table(
    data: Sequence[Sequence[Content]],
    shares: Sequence[float],
    style: Sequence[tuple[object, ...]],
    width: float,
    *,
    heads: int,
    heights: Sequence[float | None] | None = None,
) -> Table:
    whole = sum(shares)
    return RowsKeptWhole(
        data,
        colWidths=[width * share / whole for share in shares],
        rowHeights=heights,
        style=TableStyle(style),
        repeatRows=heads,
        splitInRow=1,
        spaceBefore=2,
        spaceAfter=6,
        hAlign="LEFT",
    )
