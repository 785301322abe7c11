"""Tables and verdicts in the markup of the screens."""

from __future__ import annotations

from collections.abc import Iterable

from configurator.app.markup import tag, text


def table(title: str, heads: Iterable[str], rows: Iterable[str], look: str) -> str:
    """Write a table; title and heads are people's words, rows are markup already.

    On a narrow screen it is slid sideways within its holder, and the page is not.

    Examples
    --------
    >>> table("", ["Stage"], ["<tr></tr>"], "plain")[:39]
    '<div class="held"><table class="plain">'
    """
    caption = tag("caption", text(title)) if title else ""
    head = tag("thead", tag("tr", *(tag("th", text(name), scope="col") for name in heads)))
    return tag("div", tag("table", caption, head, tag("tbody", *rows), class_=look), class_="held")


def verdict(found: str, words: str) -> str:
    """Write a verdict in words; what was found gives its mark.

    Examples
    --------
    >>> verdict("not stated", "Not stated")
    '<span class="verdict not-stated">Not stated</span>'
    """
    return tag("span", text(words), class_=f"verdict {found.replace(' ', '-')}")
