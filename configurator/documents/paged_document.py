"""From a story of flowables to the bytes of a PDF; the same story gives the same bytes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from typing import Any, Final

from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate
from reportlab.platypus.doctemplate import LayoutError

from configurator.documents.glyphs import printable
from configurator.documents.numbered_canvas import NumberedCanvas
from configurator.documents.page_frame import (
    TEXT_BOTTOM_Y,
    TEXT_HEIGHT,
    FrameWords,
    draw_frame,
    draw_loose_sheet_band,
    refuse_long_sheet,
)
from configurator.documents.styles import PAGE_HEIGHT, PAGE_WIDTH, SIDE_MARGIN, TEXT_WIDTH
from configurator.documents.typeface import BODY
from configurator.errors import DocumentError, Fault

PLAIN_PAGES: Final = "plain"
LOOSE_SHEET_PAGES: Final = "loose sheet"

_BAND_HEIGHT = 28.0


def pdf_bytes(
    story: Sequence[Flowable], frame: FrameWords, attachments: Mapping[str, bytes] | None = None
) -> bytes:
    """Lay out a story and write it as a PDF.

    Parameters
    ----------
    story : sequence of Flowable
        In reading order.
    frame : FrameWords
        Words of head and foot.
    attachments : mapping of str to bytes, optional
        File name → content, embedded in the document.

    Returns
    -------
    bytes
        The document; equal for equal arguments.

    Raises
    ------
    DocumentError
        D002 when a loose sheet has a page too many, D003 when something has no room on a page.
    """
    buffer = BytesIO()
    document = _document(buffer, frame)
    made: list[NumberedCanvas] = []

    def canvas_with_attachments(*arguments: Any, **settings: Any) -> NumberedCanvas:
        canvas = NumberedCanvas(*arguments, **settings)
        canvas.showOutline()
        made.append(canvas)
        for name, content in (attachments or {}).items():
            canvas.attach(name, content, f"{frame.reference}, machine-readable")
        return canvas

    try:
        document.build(list(story), canvasmaker=canvas_with_attachments)
    except LayoutError as error:
        raise DocumentError([_no_room(frame)]) from error
    # Only now: an error raised while ReportLab lays out is rewritten by it.
    if frame.loose_sheet is not None:
        refuse_long_sheet(made[0], frame.loose_sheet)
    return buffer.getvalue()


def _document(buffer: BytesIO, frame: FrameWords) -> BaseDocTemplate:
    title = printable(f"{frame.document} {frame.reference}")
    return BaseDocTemplate(
        buffer,
        pagesize=(PAGE_WIDTH, PAGE_HEIGHT),
        pageTemplates=_page_templates(frame),
        title=title,
        author=printable(frame.workshop),
        subject=f"Spec {frame.hash_prefix}",
        creator="configurator",
        producer="configurator",
        lang="en-GB",
        displayDocTitle=True,
        invariant=1,
        initialFontName=BODY,
        pageCompression=1,
        allowSplitting=1,
    )


def _page_templates(frame: FrameWords) -> list[PageTemplate]:
    def plain(canvas: NumberedCanvas, _: BaseDocTemplate) -> None:
        draw_frame(canvas, frame)

    def loose(canvas: NumberedCanvas, _: BaseDocTemplate) -> None:
        draw_frame(canvas, frame)
        if frame.loose_sheet is not None:
            draw_loose_sheet_band(canvas, frame.loose_sheet)

    return [
        PageTemplate(PLAIN_PAGES, [_text_frame(TEXT_HEIGHT)], onPage=plain),
        PageTemplate(LOOSE_SHEET_PAGES, [_text_frame(TEXT_HEIGHT - _BAND_HEIGHT)], onPage=loose),
    ]


def _text_frame(height: float) -> Frame:
    return Frame(
        SIDE_MARGIN, TEXT_BOTTOM_Y, TEXT_WIDTH, height,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip


def _no_room(frame: FrameWords) -> Fault:
    return Fault(
        "D003",
        f"{frame.document} of {frame.reference}",
        "something in it has no room on a page; every piece must fit or be divisible",
        "Shorten the longest text or table of this build, then make the document again.",
    )
