from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from configurator.app.markup import plain_label, tag, text

HARMFUL = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "<style>body{display:none}</style><form action=x>",
    "![a](http://example.invalid/a.png) **bold** `code`",
    "Zoë & Sons <Ltd> ’quoted’ 漢字 עברית",
)


class Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: dict[str, str | None] = {}
        self.words = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes |= dict(attrs)

    def handle_data(self, data: str) -> None:
        self.words += data


def read(markup: str) -> Reader:
    reader = Reader()
    reader.feed(markup)
    reader.close()
    return reader


@given(st.text() | st.sampled_from(HARMFUL))
def test_peoples_words_stay_words_and_become_no_tag(words: str):
    seen = read(tag("p", text(words)))
    assert seen.tags == ["p"]
    assert seen.words == words


@given(st.text() | st.sampled_from(HARMFUL))
def test_peoples_words_cannot_leave_an_attribute(words: str):
    seen = read(tag("p", title=words))
    assert list(seen.attributes) == ["title"]
    assert seen.attributes["title"] == words


@pytest.mark.parametrize("words", HARMFUL)
def test_a_label_holds_no_image_link_emphasis_or_html(words: str):
    rendered = MarkdownIt("commonmark", {"html": True}).enable("table").render(plain_label(words))
    assert re.findall(r"<(?!/?p>)[^>]*>", rendered) == []


@given(st.text(alphabet="ab1 -.:()[]!*_#+&;<>@/~=|`x'\\", max_size=14) | st.sampled_from(HARMFUL))
def test_a_label_reads_as_it_was_typed(words: str):
    rendered = (
        MarkdownIt("commonmark").enable(["table", "strikethrough"]).render(plain_label(words))
    )
    assert read(rendered).words.strip() == " ".join(words.split())
    assert set(read(rendered).tags) <= {"p"}


@pytest.mark.parametrize(
    "words",
    ["https://example.invalid", "www.example.invalid", "a@example.invalid", ":red[a]", ":smile:",
     "$x$", "~~a~~"],
)  # fmt: skip
def test_nothing_in_a_label_becomes_a_link_a_colour_or_a_picture(words: str):
    written = plain_label(words)
    assert re.search(r"(?<!\\)(://|www\.\w|@|:\w+\[|:\w+:|\$|~~)", written) is None


@pytest.mark.parametrize(
    "words",
    ["Cells: Few cells", "Range: Country roads, at least (km)", "Two-tone & gold", "3.7 kW!"],
)
def test_a_label_of_plain_words_is_heard_without_a_backslash(words: str):
    assert words == plain_label(words)
