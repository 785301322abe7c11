"""Tables and verdicts in the markup of the screens."""

from __future__ import annotations

from collections.abc import Iterable

from configurator.app.markup import tag, text


def table(title: str, heads: Iterable[str], rows: Iterable[str], look: str) -> str:
    """Write a table; title and heads are people's words, rows are markup already.

    Examples
    --------
    >>> table("", ["Stage"], ["<tr></tr>"], "plain")[:47]
    '<table class="plain"><thead><tr><th scope="col"'
    """
    caption = tag("caption", text(title)) if title else ""
    head = tag("thead", tag("tr", *(tag("th", text(name), scope="col") for name in heads)))
    return tag("table", caption, head, tag("tbody", *rows), class_=look)


def verdict(found: str, words: str) -> str:
    """Write a verdict in words; what was found gives its mark.

    Examples
    --------
    >>> verdict("not stated", "Not stated")
    '<span class="verdict not-stated">Not stated</span>'
    """
    return tag("span", text(words), class_=f"verdict {found.replace(' ', '-')}")
