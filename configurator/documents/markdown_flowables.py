"""Markdown of the workshop's texts as flowables.

Raw HTML prints as typed, pictures as their words, and nothing is ever fetched.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from xml.sax.saxutils import quoteattr

from markdown_it import MarkdownIt
from markdown_it.tree import SyntaxTreeNode
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, HRFlowable, Paragraph

from configurator.documents.colours import COPPER, LINE, TINT, rgb
from configurator.documents.glyphs import markup, prose
from configurator.documents.headings import minor_heading
from configurator.documents.paragraphs import listed
from configurator.documents.styles import CELL, CODE, COLUMN_HEAD, QUOTE, TEXT
from configurator.documents.tables import headed_table

_DEEPEST_LIST = 5
"""Deeper lists are not indented further."""

_DEEPEST_NESTING = 100
"""The reader drops what is nested deeper; the usual 20 would lose words of a long outline."""

_WEB_SCHEMES = ("http://", "https://")


def markdown_flowables(source: str, style: ParagraphStyle = TEXT) -> list[Flowable]:
    r"""Turn Markdown into flowables.

    Parameters
    ----------
    source : str
        CommonMark, and tables.
    style : ParagraphStyle
        Of running text.

    Returns
    -------
    list of Flowable
        In reading order.

    Examples
    --------
    >>> [type(flowable).__name__ for flowable in markdown_flowables("Wait.\n\n- one\n- two")]
    ['Paragraph', 'Paragraph', 'Paragraph']
    """
    tree = SyntaxTreeNode(_reader().parse(source))
    return _blocks(tree.children, style, 0)


@cache
def _reader() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False, "maxNesting": _DEEPEST_NESTING}).enable("table")


def _blocks(nodes: Sequence[SyntaxTreeNode], style: ParagraphStyle, depth: int) -> list[Flowable]:
    return [flowable for node in nodes for flowable in _block(node, style, depth)]


def _block(node: SyntaxTreeNode, style: ParagraphStyle, depth: int) -> list[Flowable]:
    match node.type:
        case "paragraph":
            block = [_paragraph(node, style)]
        case "heading":
            block = [minor_heading(_plain(node))]
        case "bullet_list" | "ordered_list":
            block = _list(node, style, depth)
        case "blockquote":
            block = _blocks(node.children, QUOTE, depth)
        case "fence" | "code_block":
            block = [_code(node.content)]
        case "hr":
            block = [HRFlowable(width="100%", thickness=0.6, color=rgb(LINE), spaceAfter=6)]
        case "table":
            block = [_table(node)]
        case _:
            block = [Paragraph(markup(node.content), style)] if node.content.strip() else []
    return block


def _paragraph(node: SyntaxTreeNode, style: ParagraphStyle) -> Paragraph:
    paragraph = Paragraph(_inline(node.children), style)
    paragraph.keepWithNext = _plain(node).rstrip().endswith(":")
    return paragraph


def _list(node: SyntaxTreeNode, style: ParagraphStyle, depth: int) -> list[Flowable]:
    base = style if depth == 0 else TEXT
    item_style = listed(base, min(depth + 1, _DEEPEST_LIST))
    first = int(node.attrs.get("start", 1)) if node.type == "ordered_list" else 0
    flowables: list[Flowable] = []
    for index, item in enumerate(node.children):
        sign = f"{first + index}." if node.type == "ordered_list" else "•"
        flowables.extend(_item(item, sign, item_style, depth))
    return flowables


def _item(node: SyntaxTreeNode, sign: str, style: ParagraphStyle, depth: int) -> list[Flowable]:
    children = list(node.children)
    if children and children[0].type == "paragraph":
        opening = Paragraph(_inline(children[0].children), style, bulletText=sign)
        return [opening, *_blocks(children[1:], style, depth + 1)]
    return [Paragraph("", style, bulletText=sign), *_blocks(children, style, depth + 1)]


def _code(content: str) -> Paragraph:
    lines = (markup(line).replace(" ", "\u00a0") for line in content.rstrip("\n").split("\n"))
    return Paragraph("<br/>".join(_keep_tags(line) for line in lines), CODE)


def _keep_tags(line: str) -> str:
    return line.replace("<font\u00a0name", "<font name")


def _table(node: SyntaxTreeNode) -> Flowable:
    rows = [row.children for part in node.children for row in part.children]
    head = [_plain(cell) for cell in rows[0]]
    body = [[Paragraph(_inline(cell.children), CELL) for cell in row] for row in rows[1:]]
    if not body:
        body = [[Paragraph("", COLUMN_HEAD) for _ in head]]
    return headed_table(head, body, [1.0] * len(head))


def _inline(nodes: Sequence[SyntaxTreeNode]) -> str:
    return "".join(_span(node) for node in nodes)


def _span(node: SyntaxTreeNode) -> str:
    match node.type:
        case "inline":
            span = _inline(node.children)
        case "strong":
            span = f"<b>{_inline(node.children)}</b>"
        case "em":
            span = f"<i>{_inline(node.children)}</i>"
        case "code_inline":
            span = f'<font backColor="{TINT}">{markup(node.content)}</font>'
        case "softbreak":
            span = " "
        case "hardbreak":
            span = "<br/>"
        case "link":
            span = _link(node)
        case "image":
            span = f"[picture: {markup(_plain(node))}]"
        case _:
            span = prose(node.content)
    return span


def _link(node: SyntaxTreeNode) -> str:
    target = str(node.attrs.get("href", ""))
    label = _inline(node.children)
    if not target.startswith(_WEB_SCHEMES):
        return label
    shown = label if _plain(node) == target else f"{label} ({markup(target)})"
    return f"<link href={quoteattr(target)} color={quoteattr(COPPER)}>{shown}</link>"


def _plain(node: SyntaxTreeNode) -> str:
    if not node.children:
        return " " if node.type in {"softbreak", "hardbreak"} else node.content
    return "".join(_plain(child) for child in node.children)
