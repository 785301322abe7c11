from __future__ import annotations

from pathlib import Path

import pytest

from configurator.catalog.load import faults_of_catalog, load_catalog
from tests.catalog.broken_copies import change, copy_of_tiny

MADE = "{{ workshop.name }} made it."


@pytest.mark.parametrize(
    "body",
    [
        "Λάδι και ελιές.",
        "安全第一。",
        "מסמך זה",
        "<script>alert(1)</script> <b>bold</b>",
        "---\n\nA line of hyphens, then **more** `code` | a | table |",
        "A brace { or two } } alone.",
    ],
)
def test_a_body_in_any_script_or_markup_is_kept_as_it_is(tmp_path: Path, body: str) -> None:
    catalog = copy_of_tiny(tmp_path)
    change(catalog, "texts/read-me-first.md", MADE, body)
    text = next(text for text in load_catalog(catalog).texts if text.id == "read-me-first")
    assert text.body.endswith(body)


@pytest.mark.parametrize("sign", ["\x07", "\x1b[31m", "\u202e", "\x00"])
def test_a_control_character_in_a_body_is_told_with_its_line(tmp_path: Path, sign: str) -> None:
    catalog = copy_of_tiny(tmp_path)
    line = change(catalog, "texts/read-me-first.md", MADE, f"\n{sign}")
    (fault,) = faults_of_catalog(catalog)
    assert fault.code == "C014"
    assert fault.where == f"texts/read-me-first.md:{line + 1}"


def test_a_text_of_nothing_at_all_is_told(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    path = catalog / "texts/read-me-first.md"
    path.write_text(path.read_text(encoding="utf-8").split("This pack")[0], encoding="utf-8")
    (fault,) = faults_of_catalog(catalog)
    assert fault.code == "C030"


def test_a_body_in_the_front_matter_is_told(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    line = change(catalog, "texts/read-me-first.md", "order: 1", "body: Here.\norder: 1")
    (fault,) = faults_of_catalog(catalog)
    assert fault.code == "C020"
    assert fault.where == f"texts/read-me-first.md:{line}"
