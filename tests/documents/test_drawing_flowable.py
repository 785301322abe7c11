"""Drawings keep their proportions, their words, their colours and their transparency."""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pytest
from reportlab.platypus import Flowable

from configurator.documents.drawing_flowable import DrawingFlowable
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.drawings.shapes import (
    Box,
    Circle,
    Curve,
    Drawing,
    Paint,
    Polygon,
    Polyline,
    Words,
)
from tests.documents.sample_spec import sample_spec

RED = Paint(fill="#ff0000")


def drawing(*shapes: object, box: Box | None = None) -> Drawing:
    return Drawing("a title", "a description", "m", box or Box(-1, 0, 3, 2), tuple(shapes))  # type: ignore[arg-type]


def page_of(flowable: Flowable) -> pdfplumber.page.Page:
    pdf = pdf_bytes([flowable], frame_words(sample_spec(), "Picture"))
    return pdfplumber.open(BytesIO(pdf)).pages[0]


@pytest.mark.parametrize(("width", "height", "scale"), [(100.0, 500.0, 25.0), (500.0, 100.0, 50.0)])
def test_a_drawing_fills_its_width_or_its_height(width: float, height: float, scale: float) -> None:
    flowable = DrawingFlowable(drawing(), width=width, height=height)
    assert scale == flowable.scale
    assert (width, 2 * scale) == flowable.wrap(1000, 1000)


def test_a_drawing_without_extent_is_no_fault() -> None:
    page_of(DrawingFlowable(drawing(RED and Circle((0, 0), 0, RED), box=Box(0, 0, 0, 0)),
                            width=100, height=50))  # fmt: skip


def test_words_are_anchored_and_escape_nothing() -> None:
    words = Words((1.0, 1.0), "<b>5 Ω & more</b>", 0.2, "#000000", "middle")
    page = page_of(DrawingFlowable(drawing(words), width=400, height=300))
    found = [w for w in page.extract_words() if 100 < w["top"] < 400]
    assert "<b>5 Ω & more</b>" == " ".join(w["text"] for w in found)
    middle = (found[0]["x0"] + found[-1]["x1"]) / 2
    assert pytest.approx(54 + 400 / 2, abs=1.0) == middle


def test_every_kind_of_shape_is_painted() -> None:
    square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
    shapes = (
        Polygon(square, RED),
        Polyline(square, Paint(stroke="#00ff00", stroke_width=0.1)),
        Circle((1.0, 1.0), 0.5, Paint(fill="#0000ff")),
        Curve((0.0, 0.0), (((0.2, 1.0), (0.8, 1.0), (1.0, 0.0)),), True, Paint(fill="#ff00ff")),
    )
    page = page_of(DrawingFlowable(drawing(*shapes), width=200, height=200))
    painted = {tuple(c["non_stroking_color"]) for c in (*page.curves, *page.rects) if c["fill"]}
    stroked = {tuple(c["stroking_color"]) for c in (*page.curves, *page.lines) if c["stroke"]}
    assert {(1, 0, 0), (0, 0, 1), (1, 0, 1)} <= painted
    assert (0, 1, 0) in stroked


def test_a_transparent_shape_stays_transparent() -> None:
    pale = Paint(fill="#123456", opacity=0.25)
    flowable = DrawingFlowable(drawing(Circle((1.0, 1.0), 0.5, pale)), width=200, height=200)
    pdf = pdf_bytes([flowable], frame_words(sample_spec(), "Picture"))
    assert b"/ca .25" in pdf
