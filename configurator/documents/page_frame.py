"""What stands at the head and foot of every page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from configurator.build_spec.spec import Spec
from configurator.documents.colours import COPPER, INK, LINE, QUIET_INK, WHITE, rgb
from configurator.documents.glyphs import line_width, runs, shortened
from configurator.documents.numbered_canvas import NumberedCanvas
from configurator.documents.styles import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    SIDE_MARGIN,
    TEXT_WIDTH,
    LineStyle,
)
from configurator.documents.typeface import BODY, BOLD
from configurator.errors import DocumentError, Fault

DEMONSTRATION: Final = "Demonstration: an invented workshop and vehicles"

HEAD_LINE_Y: Final = PAGE_HEIGHT - 50
FOOT_LINE_Y: Final = 42.0
TEXT_TOP_Y: Final = HEAD_LINE_Y - 10
TEXT_BOTTOM_Y: Final = FOOT_LINE_Y + 8
TEXT_HEIGHT: Final = TEXT_TOP_Y - TEXT_BOTTOM_Y

_RIGHT = PAGE_WIDTH - SIDE_MARGIN
_HASH_LENGTH = 12

_FIRST_SHEET_PAGE = "first page of the loose sheet"
_LAST_SHEET_PAGE = "last page of the loose sheet"

_HEAD: Final = LineStyle(BODY, 9, INK)
_HEAD_STRONG: Final = LineStyle(BOLD, 9, INK)
_MARK: Final = LineStyle(BOLD, 8.6, COPPER)
_FOOT: Final = LineStyle(BODY, 8, QUIET_INK)
_BAND: Final = LineStyle(BOLD, 11, WHITE)


@dataclass(frozen=True)
class LooseSheet:
    """Pages that may be taken out of a document."""

    name: str
    most_pages: int


@dataclass(frozen=True)
class FrameWords:
    """The words of a page's head and foot."""

    workshop: str
    document: str
    reference: str
    hash_prefix: str
    mark: str
    """Printed at the head of each page, such as that it is a draft; may be empty."""
    is_demonstration: bool
    loose_sheet: LooseSheet | None


def frame_words(
    spec: Spec, document: str, mark: str = "", loose_sheet: LooseSheet | None = None
) -> FrameWords:
    """Gather the words of head and foot from a spec."""
    return FrameWords(
        workshop=spec.workshop.name,
        document=document,
        reference=spec.build.reference,
        hash_prefix=spec.sha256()[:_HASH_LENGTH],
        mark=mark,
        is_demonstration=spec.workshop.is_invented,
        loose_sheet=loose_sheet,
    )


def draw_frame(canvas: NumberedCanvas, frame: FrameWords) -> None:
    """Draw head and foot of a page."""
    canvas.saveState()
    _draw_head(canvas, frame)
    _draw_foot(canvas, frame)
    canvas.restoreState()


def draw_loose_sheet_band(canvas: NumberedCanvas, sheet: LooseSheet) -> None:
    """Draw the band that tells the sheet from the pages around it, with a count of its own."""
    first = canvas.page_of.setdefault(_FIRST_SHEET_PAGE, canvas.getPageNumber())
    number = canvas.getPageNumber() - first + 1
    canvas.page_of[_LAST_SHEET_PAGE] = canvas.getPageNumber()
    canvas.saveState()
    canvas.setFillColor(rgb(INK))
    canvas.rect(0, TEXT_TOP_Y - 20, PAGE_WIDTH, 24, stroke=0, fill=1)
    _line(canvas, sheet.name, _BAND, TEXT_TOP_Y - 12.5, TEXT_WIDTH - 120)
    canvas.draw_late(
        _RIGHT,
        TEXT_TOP_Y - 12.5,
        lambda: f"sheet page {number} of {_sheet_pages(canvas)}",
        _BAND,
    )
    canvas.restoreState()


def refuse_long_sheet(canvas: NumberedCanvas, sheet: LooseSheet) -> None:
    """Refuse a finished document whose loose sheet has a page too many.

    Raises
    ------
    DocumentError
        D002.
    """
    if _FIRST_SHEET_PAGE in canvas.page_of and _sheet_pages(canvas) > sheet.most_pages:
        raise DocumentError([_sheet_too_long(sheet)])


def _sheet_pages(canvas: NumberedCanvas) -> int:
    return canvas.page_of[_LAST_SHEET_PAGE] - canvas.page_of[_FIRST_SHEET_PAGE] + 1


def _sheet_too_long(sheet: LooseSheet) -> Fault:
    return Fault(
        "D002",
        sheet.name,
        f"its texts need more than {sheet.most_pages} pages; rescuers must find things at once",
        "Shorten the texts of the emergency sections in the catalog.",
    )


def _draw_head(canvas: NumberedCanvas, frame: FrameWords) -> None:
    right = f"{frame.document} · {frame.reference}"
    room = TEXT_WIDTH - line_width(right, _HEAD.font, _HEAD.size) - 16
    _line(canvas, frame.workshop, _HEAD_STRONG, HEAD_LINE_Y + 6, room)
    canvas.setFillColor(rgb(_HEAD.colour))
    canvas.setFont(_HEAD.font, _HEAD.size)
    canvas.drawRightString(_RIGHT, HEAD_LINE_Y + 6, right)
    if frame.mark:
        _line(canvas, frame.mark, _MARK, HEAD_LINE_Y + 20, TEXT_WIDTH)
    canvas.setStrokeColor(rgb(INK))
    canvas.setLineWidth(0.8)
    canvas.line(SIDE_MARGIN, HEAD_LINE_Y, _RIGHT, HEAD_LINE_Y)


def _draw_foot(canvas: NumberedCanvas, frame: FrameWords) -> None:
    canvas.setStrokeColor(rgb(LINE))
    canvas.setLineWidth(0.6)
    canvas.line(SIDE_MARGIN, FOOT_LINE_Y, _RIGHT, FOOT_LINE_Y)
    left = f"Spec {frame.hash_prefix}"
    if frame.is_demonstration:
        left = f"{left}   ·   {DEMONSTRATION}"
    _line(canvas, left, _FOOT, FOOT_LINE_Y - 12, TEXT_WIDTH - 90)
    number = canvas.getPageNumber()
    pages = canvas.page_of
    pages["last page"] = number
    canvas.draw_late(
        _RIGHT, FOOT_LINE_Y - 12, lambda: f"Page {number} of {pages['last page']}", _FOOT
    )


def _line(canvas: NumberedCanvas, text: str, style: LineStyle, y: float, room: float) -> None:
    canvas.setFillColor(rgb(style.colour))
    x = SIDE_MARGIN
    for run in runs(shortened(text, style.font, style.size, room), style.font):
        canvas.setFont(run.font, style.size)
        canvas.drawString(x, y, run.text)
        x += canvas.stringWidth(run.text, run.font, style.size)
