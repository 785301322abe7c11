from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from configurator.catalog.placeholders import fill_placeholders, placeholders_in, unclosed_line


def test_each_placeholder_is_looked_up_without_its_spaces() -> None:
    asked: list[str] = []

    def look_up(name: str) -> str:
        asked.append(name)
        return f"<{name}>"

    filled = fill_placeholders("{{a.b}} and {{  fact:x:y-z  }}", look_up)
    assert asked == ["a.b", "fact:x:y-z"]
    assert filled == "<a.b> and <fact:x:y-z>"


def test_a_value_with_braces_is_not_filled_again() -> None:
    assert fill_placeholders("{{ a.b }}", lambda _: "{{ b.c }}") == "{{ b.c }}"


def test_an_unclosed_placeholder_is_found_on_its_line() -> None:
    assert unclosed_line("a\n{{ b.c }}\n{{ d.e\n}}") == 2


@given(st.text())
def test_a_text_without_braces_is_left_as_it_is(text: str) -> None:
    plain = text.replace("{", "(").replace("}", ")")
    assert plain == fill_placeholders(plain, lambda _: "x")
    assert list(placeholders_in(plain)) == []
