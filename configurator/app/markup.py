"""Own markup with people's text made harmless: nobody's words become tags, links or images."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable

_MARKDOWN = re.compile(
    r"[\\`*_{}\[\]#+|<>~$^=@]"
    r"|:(?!\s|$)|\.(?![\s\d]|$)|(?<!\w)-|-(?!\w)|&(?=#|\w+;)"  # links, rules, entities
)
_NUMBERED = re.compile(r"^(\d{1,9})([.)])(?=\s|$)")


def text(words: object) -> str:
    """Escape words for an HTML text or a quoted attribute.

    Examples
    --------
    >>> text('<b onclick="x">Ann & Bo</b>')
    '&lt;b onclick=&quot;x&quot;&gt;Ann &amp; Bo&lt;/b&gt;'
    """
    return html.escape(str(words), quote=True)


def plain_label(words: str) -> str:
    r"""Escape words for a label or button, which are read as Markdown.

    Whoever hears the label of a field hears it as it is written here. So punctuation that means
    nothing to Markdown where it stands is left alone.

    Examples
    --------
    >>> plain_label("![a](http://x)")
    '!\\[a\\](http\\://x)'
    >>> plain_label("Two-tone paint: 1.5 coats (at least)")
    'Two-tone paint: 1.5 coats (at least)'
    """
    escaped = _MARKDOWN.sub(r"\\\g<0>", " ".join(words.split()))
    return _NUMBERED.sub(r"\1\\\2", escaped)


def tag(name: str, *children: str, **attributes: object) -> str:
    """Write an element; attributes are escaped, children are markup already.

    Underscores in attribute names become hyphens; `class_` is `class`.

    Examples
    --------
    >>> tag("p", text("a < b"), class_="note", data_price=12)
    '<p class="note" data-price="12">a &lt; b</p>'
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{text(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{written}>{''.join(children)}</{name}>"


def items(lines: Iterable[str], class_: str) -> str:
    """Write a list of lines that are markup already."""
    return tag("ul", *(tag("li", line) for line in lines), class_=class_)
