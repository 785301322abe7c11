"""Side and top view with the placed components, their legend, and the pictograms explained."""

from __future__ import annotations

from typing import get_args

from reportlab.platypus import Flowable, Table
from reportlab.platypus.tables import TableStyle

from configurator.build_spec.spec import Spec
from configurator.catalog.models.vehicle import Emblem
from configurator.documents.drawing_flowable import DrawingFlowable
from configurator.documents.paragraphs import cell, small
from configurator.documents.safety_panel import WholeTable
from configurator.documents.styles import CELL_STRONG, TEXT_WIDTH
from configurator.documents.typeface import BODY
from configurator.drawings.emblem import WORDS, emblem_picture
from configurator.drawings.placed_components import EmblemAt, emergency_legend, emergency_views

_VIEW_SHARE = 0.58
_VIEW_HEIGHT = 165.0
_GREATEST_LEGEND = 340.0
_LEGEND_SCALE = 0.8
"""Of the legend's own type size, which suits a screen."""
_PICTOGRAM_PT = 20.0
_PICTOGRAM_COLUMNS = 3


def emergency_pictures(spec: Spec) -> list[Flowable]:
    """Both views beside the legend."""
    items = placed_items(spec)
    view_width = TEXT_WIDTH * _VIEW_SHARE
    views = [
        DrawingFlowable(view, width=view_width - 12, height=_VIEW_HEIGHT)
        for view in emergency_views(spec.vehicle, items)
    ]
    legend: list[Flowable] = [cell("What the numbers stand for", CELL_STRONG)]
    if items:
        width = TEXT_WIDTH - view_width - 6
        drawing = emergency_legend(items, width_pt=width / _LEGEND_SCALE)
        legend.append(DrawingFlowable(drawing, width=width, height=_GREATEST_LEGEND))
    else:
        legend.append(small("No component has a place in this spec."))
    return [_beside(views, legend, view_width)]


def placed_items(spec: Spec) -> list[EmblemAt]:
    """Components that are put in and have a symbol, in the order of the ledger."""
    return [
        EmblemAt(line.emblem, line.place_label, line.x_m, line.y_m, line.z_m)
        for line in spec.ledger
        if line.emblem is not None and line.mass_kg > 0
    ]


def pictogram_table(spec: Spec) -> list[Flowable]:
    """Explain every symbol that the views use; all of them when none is placed."""
    used = {item.emblem for item in placed_items(spec)}
    emblems = [emblem for emblem in get_args(Emblem) if emblem in used or not used]
    cells = [_pictogram(emblem) for emblem in emblems]
    cells += [["", ""]] * (-len(cells) % _PICTOGRAM_COLUMNS)
    rows = [
        [part for pair in cells[start : start + _PICTOGRAM_COLUMNS] for part in pair]
        for start in range(0, len(cells), _PICTOGRAM_COLUMNS)
    ]
    column = TEXT_WIDTH / _PICTOGRAM_COLUMNS
    widths = [_PICTOGRAM_PT + 10, column - _PICTOGRAM_PT - 10] * _PICTOGRAM_COLUMNS
    style = TableStyle([
        ("FONTNAME", (0, 0), (-1, -1), BODY),
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("LEFTPADDING", (0, 0), (-1, -1), 2),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2),
        ("TOPPADDING", (0, 0), (-1, -1), 1.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
    ])  # fmt: skip
    table = WholeTable(rows, colWidths=widths, style=style, hAlign="LEFT", spaceAfter=4)
    return [table]


def _pictogram(emblem: Emblem) -> list[Flowable | str]:
    picture = emblem_picture(emblem)
    return [
        DrawingFlowable(picture, width=_PICTOGRAM_PT, height=_PICTOGRAM_PT),
        cell(WORDS[emblem]),
    ]


def _beside(views: list[Flowable], legend: list[Flowable], view_width: float) -> Table:
    style = TableStyle([
        ("FONTNAME", (0, 0), (-1, -1), BODY),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ])  # fmt: skip
    return WholeTable(
        [[views, legend]],
        colWidths=[view_width, TEXT_WIDTH - view_width],
        style=style,
        hAlign="LEFT",
        spaceAfter=2,
    )
