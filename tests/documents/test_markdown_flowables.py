"""Markdown becomes flowables; nothing in it is lost, run, or fetched."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.platypus import HRFlowable, Paragraph, Table

from configurator.documents.headings import Heading
from configurator.documents.markdown_flowables import markdown_flowables


def plain(source: str) -> list[str]:
    return [f.getPlainText() for f in markdown_flowables(source) if isinstance(f, Paragraph)]


def test_paragraphs_and_emphasis() -> None:
    (only,) = markdown_flowables("One **two** *three* `four`")
    assert "One two three four" == only.getPlainText()
    assert "SourceSans-Bold" in {frag.fontName for frag in only.frags}
    assert "SourceSans-Italic" in {frag.fontName for frag in only.frags}


def test_a_heading_is_one_that_keeps_with_what_follows() -> None:
    assert isinstance(markdown_flowables("# Title")[0], Heading)


def test_lists_keep_numbers_dots_and_depth() -> None:
    items = markdown_flowables("3. three\n4. four\n\n   - below\n")
    assert ["3.", "4.", "•"] == [item.bulletText for item in items]
    assert items[2].style.leftIndent > items[1].style.leftIndent


def test_a_list_of_twelve_levels_loses_no_word() -> None:
    source = "".join("  " * depth + f"- level {depth}\n" for depth in range(12))
    assert [f"level {depth}" for depth in range(12)] == plain(source)


def test_a_table_has_its_head_and_rows() -> None:
    (table,) = markdown_flowables("|a|b|\n|-|-|\n|1|2|\n|3|4|\n")
    assert isinstance(table, Table)
    assert 3 == len(table._cellvalues)
    assert 1 == table.repeatRows


def test_a_table_without_rows_still_prints() -> None:
    (table,) = markdown_flowables("|a|b|\n|-|-|\n")
    assert isinstance(table, Table)


def test_raw_html_is_printed_not_obeyed() -> None:
    assert ['<b onclick="x">hi</b> & <script>'] == plain('<b onclick="x">hi</b> & <script>')
    assert ["<div>block</div>"] == plain("<div>block</div>")


def test_a_picture_is_printed_as_its_words() -> None:
    assert ["[picture: a map]"] == plain("![a map](https://example.invalid/map.png)")


def test_a_web_link_prints_its_target_and_others_only_their_words() -> None:
    assert ["here (https://example.invalid/?a=1&b=2)"] == plain(
        "[here](https://example.invalid/?a=1&b=2)"
    )
    assert ["there"] == plain("[there](mailto:x@example.invalid)")
    assert ["https://example.invalid"] == plain("<https://example.invalid>")


def test_code_keeps_its_spaces_and_lines() -> None:
    (code,) = markdown_flowables("```\na  b\nΩ <c>\n```")
    assert "a\u00a0\u00a0b" in code.getPlainText()
    assert "Ω\u00a0<c>" in code.getPlainText()


def test_a_rule_is_drawn() -> None:
    assert isinstance(markdown_flowables("a\n\n---\n\nb")[1], HRFlowable)


@settings(max_examples=80, deadline=None)
@given(st.text(alphabet="ab *_`#>-+1.|[]()!<&\\\n\t~:Ω漢", max_size=80))
def test_no_markdown_is_fatal(source: str) -> None:
    for flowable in markdown_flowables(source):
        flowable.wrap(400, 700)
