"""Short ways to a paragraph: from people's text, which is escaped, or from our own markup."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph

from configurator.documents.glyphs import markup, markup_of_lines, prose, prose_of_lines
from configurator.documents.styles import CELL, SMALL, TEXT


def words(text: str, style: ParagraphStyle = TEXT) -> Paragraph:
    """Make a paragraph from plain text; markup in it prints as typed."""
    return Paragraph(prose(text), style)


def lines(text: str, style: ParagraphStyle = TEXT) -> Paragraph:
    """Make a paragraph from plain text of several lines."""
    return Paragraph(prose_of_lines(text), style)


def labelled(label: str, text: str, style: ParagraphStyle = TEXT) -> Paragraph:
    """Make a paragraph with a bold label before plain text."""
    return Paragraph(f"<b>{markup(label)}</b> {prose(text)}", style)


def small(text: str) -> Paragraph:
    """Make a quiet paragraph in small type."""
    return words(text, SMALL)


def bullets(
    items: Iterable[str], style: ParagraphStyle = TEXT, *, numbered: bool = False
) -> list[Paragraph]:
    """Make a list, an item a paragraph, with dots or numbers."""
    item_style = listed(style, 1)
    return [
        Paragraph(prose(item), item_style, bulletText=f"{number}." if numbered else "•")
        for number, item in enumerate(items, start=1)
    ]


@cache
def listed(style: ParagraphStyle, depth: int) -> ParagraphStyle:
    """Indent a style for an item of a list, for depth 1 and deeper."""
    indent = style.leftIndent + 15 * depth
    return style.clone(
        f"{style.name}-listed-{depth}",
        leftIndent=indent,
        bulletIndent=indent - 12,
        bulletFontSize=style.fontSize,
        bulletColor=style.textColor,
        spaceAfter=2.5,
    )


def cell(text: str, style: ParagraphStyle = CELL) -> Paragraph:
    """Make the content of a table's cell from plain text of one or more lines."""
    # A column of figures is narrow: there the unit may go below its number.
    escape = markup_of_lines if style.alignment == TA_RIGHT else prose_of_lines
    return Paragraph(escape(text), style)
