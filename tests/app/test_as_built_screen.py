"""The as-built record on its screen: what is needed, what is entered, what stands against it."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import Opener
from tests.app.screens import TINY, by_the_papers, start_enquiry, words
from tests.workflow.test_as_built import RECORDS


@pytest.fixture
def catalog(tmp_path: Path) -> Path:
    folder = Path(shutil.copytree(TINY, tmp_path / "catalog"))
    (folder / "as_built.yaml").write_text(RECORDS, encoding="utf-8")
    return folder


@pytest.fixture
def issued(open_screens: Opener, catalog: Path) -> AppTest:
    """The as-built page of a build whose spec is issued."""
    talk = start_enquiry(open_screens(catalog)).button(key="house-choices").click().run()
    screen = by_the_papers(talk, "sign-off")
    for field in screen.text_input:
        field.input("Seen and judged")
    next(b for b in screen.button if "Issue the first spec" in b.label).click().run()
    papers = screen.button(key="to-papers").click().run()
    return papers.button(key="to-as-built").click().run()


def enter(screen: AppTest, **typed: str) -> AppTest:
    for label, content in typed.items():
        wanted = label.replace("_", " ")
        next(f for f in screen.text_input if f.label.startswith(wanted)).input(content)
    next(b for b in screen.button if b.label == "Write it down").click().run()
    return screen


def until_next_year(screen: AppTest) -> AppTest:
    day = next(field for field in screen.date_input if "calibration" in field.label)
    today = datetime.now(UTC).date()
    day.set_value(today.replace(month=1, day=1, year=today.year + 2))
    return screen


def test_before_a_spec_is_issued_nothing_is_asked_for(open_screens: Opener) -> None:
    screen = by_the_papers(start_enquiry(open_screens()), "as-built")
    assert "No spec is issued yet" in words(screen)
    assert not screen.text_input


def test_what_is_needed_stands_by_stage_with_limit_source_and_caution(issued: AppTest) -> None:
    said = words(issued)
    for wanted in ("Capacity of the battery", "Tickets", "To be measured", "invented for tests"):
        assert wanted in said
    assert "Asked for elsewhere" not in said
    assert "competent for high-voltage vehicles" in said
    assert said.index("Capacity of the battery") < said.index("Tickets")


def test_a_value_within_its_limit_is_written_down(issued: AppTest) -> None:
    screen = enter(
        until_next_year(issued), Energy="40", Method="Constant current", Instrument="Meter 3"
    )
    assert "“Capacity of the battery” is written down." in words(screen)
    assert "notice said" in words(screen)
    assert "Within limits" in words(screen)
    assert "Meter 3, calibrated until 1 January" in words(screen)


def test_a_value_beyond_its_limit_is_told_with_number_and_limit(issued: AppTest) -> None:
    screen = enter(
        until_next_year(issued), Energy="1.5", Method="Constant current", Instrument="Meter 3"
    )
    said = words(screen)
    assert "Out of tolerance" in said
    assert "Energy: 1.5 kWh; it must be at least" in said
    notice = next(part for part in said.split("\n") if "is written down" in part)
    assert "notice asked" in notice, "no green notice over a value that blocks"
    assert "Out of tolerance: “Capacity of the battery” is written down as it is." in notice
    assert "Energy: 1.5 kWh; it must be at least" in notice
    assert "blocks the handover: Capacity of the battery" in said


def test_what_is_missing_is_told_at_once_and_nothing_is_lost(issued: AppTest) -> None:
    screen = enter(issued, Energy="a lot", Method="Constant current")
    said = words(screen)
    assert "“Energy” is &quot;a lot&quot;, which is no number" in said
    assert "No instrument is named" in said
    typed = [field.value for field in screen.text_input]
    assert "a lot" in typed
    assert "Within limits" not in said


def test_serial_numbers_are_kept_and_shown_again(issued: AppTest) -> None:
    def write_down() -> str:
        label = "Write the serial numbers down"
        next(b for b in issued.button if b.label == label).click().run()
        return words(issued)

    assert "so nothing is written down" in write_down()
    number = next(
        field for field in issued.text_input if "Few cells" in field.label or "Many" in field.label
    )
    number.input("<b>SAMPLE-1</b>")
    assert "1 serial number is written down, of" in write_down()
    assert "<b>SAMPLE-1</b>" in [field.value for field in issued.text_input]
