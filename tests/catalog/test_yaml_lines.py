from __future__ import annotations

from datetime import date

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.catalog.yaml_lines import read_yaml
from configurator.catalog.yaml_scalars import SurprisingValueError, plain_value

PLAIN = st.recursive(
    st.one_of(
        st.integers(min_value=-(10**12), max_value=10**12),
        st.booleans(),
        st.none(),
        st.dates(min_value=date(1900, 1, 1), max_value=date(2200, 1, 1)),
        st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cf"]), max_size=20),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(
            st.text(st.characters(codec="ascii", categories=["Ll"]), min_size=1, max_size=8),
            inner,
            max_size=4,
        ),
    ),
    max_leaves=12,
)


@settings(max_examples=100, deadline=None)
@given(PLAIN)
def test_what_another_writer_wrote_is_read_back(value: object) -> None:
    text = yaml.safe_dump(value, allow_unicode=True, sort_keys=False)
    document = read_yaml(text, "any.yaml")
    refused = {fault.code for fault in document.faults}
    assert refused <= {"C006", "C010", "C012", "C014"}
    if not refused:
        assert value == document.value


@pytest.mark.parametrize(
    "text",
    [
        "no",
        "Yes",
        "ON",
        "off",
        "012",
        "0x1F",
        "1_000",
        "1:30",
        "-.inf",
        ".nan",
        "2024-02-30",
        "2024-01-01T10:00:00",
        "2024-01-01 10:00",
        "9" * 40,
        "7.",
    ],
)
def test_a_value_that_could_be_misread_is_refused(text: str) -> None:
    with pytest.raises(SurprisingValueError):
        plain_value(text)


@pytest.mark.parametrize("text", ["N", "y", "oak", "1.2.3", "-", "155 R13", "0-60", "3/4", "H4"])
def test_a_word_that_nobody_misreads_stays_a_text(text: str) -> None:
    assert text == plain_value(text)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("-5", -5),
        ("2.50", 2.5),
        (".5", 0.5),
        ("1e3", 1000.0),
        ("", None),
        ("~", None),
        ("true", True),
    ],
)
def test_a_plain_number_is_a_number(text: str, value: object) -> None:
    assert value == plain_value(text)
    assert type(value) is type(plain_value(text))


def test_a_quoted_value_is_always_a_text() -> None:
    document = read_yaml("a: 'no'\nb: \"012\"\nc: '2024-01-01'\n", "any.yaml")
    assert document.value == {"a": "no", "b": "012", "c": "2024-01-01"}
    assert not document.faults


def test_a_bomb_of_aliases_is_refused_before_it_grows() -> None:
    lines = ["a0: &a0 [x, x]"] + [
        f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 30)
    ]
    document = read_yaml("\n".join(lines), "bomb.yaml")
    assert {"C010"} == {fault.code for fault in document.faults}
    assert document.value is None


@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? "])
def test_very_deep_nesting_is_refused(opening: str) -> None:
    document = read_yaml(opening * 20_000, "deep.yaml")
    assert document.faults
    assert {fault.code for fault in document.faults} <= {"C011", "C007"}


def test_every_value_has_its_line() -> None:
    text = "# first\na:\n  - x\n  - b: 1\n    c:\n      d: 2\ntext: |\n  two\n  lines\n"
    document = read_yaml(text, "any.yaml", first_line=11)
    assert document.where(("a", 0)) == "any.yaml:13"
    assert document.where(("a", 1, "c", "d")) == "any.yaml:16"
    assert document.where(("a", 1, "c", "unknown")) == "any.yaml:15"
    assert document.where(("text",)) == "any.yaml:17"
