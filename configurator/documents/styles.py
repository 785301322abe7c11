"""Paragraph styles: one measure of type for every document."""

from __future__ import annotations

from typing import Any, Final, NamedTuple

from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from configurator.documents.colours import COPPER, INK, PAPER, QUIET_INK, TINT, rgb
from configurator.documents.typeface import BODY, BOLD, HEADING, ITALIC

PAGE_WIDTH: Final = 595.28
PAGE_HEIGHT: Final = 841.89
SIDE_MARGIN: Final = 54.0
TEXT_WIDTH: Final = PAGE_WIDTH - 2 * SIDE_MARGIN
"""Of an A4 page between its margins [pt]."""


class LineStyle(NamedTuple):
    """How a single line is drawn straight on the page."""

    font: str
    size: float
    colour: str


def _style(name: str, parent: ParagraphStyle | None = None, **changes: Any) -> ParagraphStyle:
    settings = {"bulletFontName": BODY, "splitLongWords": 1, **changes}
    return ParagraphStyle(name, parent=parent, **settings)


TEXT: Final = _style(
    "text", fontName=BODY, fontSize=9.6, leading=13.2, textColor=rgb(INK), spaceAfter=5,
    allowWidows=0, allowOrphans=0,
)  # fmt: skip
LEAD: Final = _style("lead", TEXT, fontSize=11, leading=15.5, spaceAfter=8)
SMALL: Final = _style(
    "small", TEXT, fontSize=8.2, leading=10.8, textColor=rgb(QUIET_INK), spaceAfter=4
)
QUOTE: Final = _style("quote", TEXT, fontName=ITALIC, leftIndent=14, textColor=rgb(QUIET_INK))
CODE: Final = _style(
    "code",
    TEXT,
    fontSize=8.8,
    leading=11.6,
    leftIndent=10,
    backColor=rgb(TINT),
    borderPadding=(3, 4, 4, 4),
)

CELL: Final = _style("cell", TEXT, fontSize=8.8, leading=10.8, spaceAfter=0)
CELL_STRONG: Final = _style("cell-strong", CELL, fontName=BOLD)
CELL_QUIET: Final = _style("cell-quiet", CELL, fontSize=8.2, leading=10.6, textColor=rgb(QUIET_INK))
FIGURE: Final = _style("figure", CELL, alignment=TA_RIGHT)
FIGURE_STRONG: Final = _style("figure-strong", FIGURE, fontName=BOLD)
COLUMN_HEAD: Final = _style("column-head", CELL, fontName=BOLD, fontSize=8.2, leading=10.4)
FIGURE_HEAD: Final = _style("figure-head", COLUMN_HEAD, alignment=TA_RIGHT)

TITLE: Final = _style("title", TEXT, fontName=HEADING, fontSize=27, leading=32, spaceAfter=6)
SECTION: Final = _style(
    "section", TEXT, fontName=HEADING, fontSize=17, leading=21, spaceBefore=20, spaceAfter=7
)
SHEET_HEAD: Final = _style(
    "sheet-head", TEXT, fontName=HEADING, fontSize=13, leading=16, spaceBefore=7, spaceAfter=2
)
SUBSECTION: Final = _style(
    "subsection", TEXT, fontName=BOLD, fontSize=11.4, leading=14.5, textColor=rgb(COPPER),
    spaceBefore=11, spaceAfter=4,
)  # fmt: skip
MINOR: Final = _style(
    "minor", TEXT, fontName=BOLD, fontSize=9.8, leading=12.6, spaceBefore=7, spaceAfter=3
)
STRIP_WORDS: Final = _style("strip-words", CELL_QUIET, fontSize=8, leading=10)
STRIP_FIGURE: Final = _style("strip-figure", CELL, fontName=HEADING, fontSize=13, leading=16)
ON_INK: Final = _style("on-ink", TEXT, fontName=BOLD, textColor=rgb(PAPER), spaceAfter=0)
