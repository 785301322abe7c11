from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import TextArea

from configurator.app.view_models.measured_lines import read_runs, read_trips
from configurator.app.view_models.measurements import (
    compared_rows,
    measurements_written,
    typed_from,
)
from configurator.catalog.models.measurements import MeasuredTrip, Measurements
from configurator.errors import ChoiceError
from configurator.physics.coast_down import CoastDownFit
from configurator.workflow.measurements import Assumed, RoadLoadCompared
from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words
from tests.coasting import AIR_C, TEST_KG, coast_down

ROOT = Path(__file__).parents[2]
LABELS = {"lane": "Along the lane", "round-in-june": "The round in June"}
TRIP = MeasuredTrip(driven_on=date(2025, 5, 4), case="lane", km=42.25, energy_kwh=9.8)
KEPT = Measurements(coast_down=coast_down(), trips=(TRIP,))
TYPED = typed_from(KEPT, today=date(2026, 3, 4))


def begin(open_screens: Opener) -> AppTest:
    talk = start_enquiry(open_screens())
    return by_the_papers(talk, "measurements")


def area(screen: AppTest, label: str) -> TextArea:
    return next(each for each in screen.text_area if each.label == label)


def with_runs(screen: AppTest) -> AppTest:
    for label, value in (("Mass with everybody in it (kg)", TEST_KG), ("Air (°C)", AIR_C)):
        next(each for each in screen.number_input if each.label == label).set_value(value)
    area(screen, "Runs").input(TYPED.runs)
    return screen.run()


def test_the_danger_is_told_before_anything_is_entered(open_screens: Opener) -> None:
    said = words(begin(open_screens))
    assert said.index("Warning. A vehicle rolls out of gear") < said.index("Paste runs")
    for part in ("hurt or killed", "closed, level road", "second person", "ISO 10521-1"):
        assert part in said


def test_pasted_runs_are_answered_at_once(open_screens: Opener) -> None:
    screen = with_runs(begin(open_screens))
    assert "1.31" in words(screen)
    assert "the donor’s tyres do not stay" in words(screen)
    assert not screen.exception


def test_the_mass_says_where_it_is_from_and_open_choices_hold_the_comparison_back(
    open_screens: Opener,
) -> None:
    said = words(begin(open_screens))
    assert "the donor’s axle loads from the catalog, with a driver of 75 kg" in said
    assert "still open" in said[said.index("What it changes in the range") :]


def test_before_and_after_stand_side_by_side_once_all_is_chosen(open_screens: Opener) -> None:
    talk = start_enquiry(open_screens()).button(key="house-choices").click().run()
    screen = by_the_papers(talk, "measurements")
    driven = area(screen, "Trips").input("lane; 42; 6.5; 2025-05-04").run()
    said = words(driven)
    for part in ("Before", "After", "Wh/km", "Like what was driven", "Unlike what was", "narrower"):
        assert part in said
    assert not driven.exception
    far = area(driven, "Trips").input("lane; 42; 100; 2025-05-04").run()
    assert "trip 1" in words(far)
    assert not far.exception


def test_what_was_measured_is_kept_forgotten_and_comes_back_with_undo(
    open_screens: Opener,
) -> None:
    screen = with_runs(begin(open_screens))
    typed = area(screen, "Trips").input("Along the lane; 42; 9,8; 2025-05-04").run()
    for box in typed.checkbox:
        box.check()
    kept = typed.run().button(key="keep-measured").click().run()
    assert kept.button(key="keep-measured").disabled
    assert "lane; 42; 9.8; 2025-05-04" == area(kept, "Trips").value
    assert "0 85\n2.5 " == (area(kept, "Runs").value or "")[:9]
    gone = kept.button(key="forget-measured").click().run()
    assert gone.button(key="forget-measured").disabled
    assert not area(gone, "Runs").value
    talk = gone.button(key="to-papers").click().run().button(key="to-talk").click().run()
    undone = talk.button(key="undo").click().run()
    back = by_the_papers(undone, "measurements")
    assert "lane; 42; 9.8; 2025-05-04" == area(back, "Trips").value
    assert not back.exception


def test_a_line_that_cannot_be_read_is_told_by_its_number_and_escaped(
    open_screens: Opener,
) -> None:
    screen = area(begin(open_screens), "Runs").input("0 80\n2 <b>fast</b>").run()
    said = words(screen)
    assert "Runs, line 2" in said
    assert "&lt;b&gt;fast" in said
    assert "<b>fast" not in said
    assert not screen.exception


def test_what_is_kept_is_written_back_as_it_was() -> None:
    assert KEPT == Measurements.model_validate(measurements_written(TYPED, LABELS))
    empty = typed_from(Measurements(), today=date(2026, 3, 4))
    assert Measurements() == Measurements.model_validate(measurements_written(empty, LABELS))


@pytest.mark.parametrize(
    ("pasted", "where", "what"),
    [
        ("0 80\nfast", "Runs, line 2", "not two numbers"),
        ("0 80 1", "Runs, line 1", "not two numbers"),
        ("0 nan", "Runs, line 1", "not two numbers"),
        ("0 80\n0 79", "Runs, line 2", "does not come after"),
        ("0 800", "Runs, line 1", "0 to 200 km/h"),
        ("\n0 80\n2 70\n", "Runs, line 2", "has 2 lines"),
        ("0 80\n1 70\n2 60\n3 50", "Runs, line 1", "there is one run"),
    ],
)
def test_runs_that_cannot_be_read_name_their_line(pasted: str, where: str, what: str) -> None:
    faults = read_runs(pasted)[1]
    assert where == faults[0].where
    assert what in faults[0].what
    assert faults[0].remedy


@pytest.mark.parametrize(
    ("pasted", "what"),
    [
        ("lane; 42; 9.8", "it has 3 parts"),
        ("moon; 42; 9.8; 2026-05-04", 'no driving case "moon"'),
        ("lane; far; 9.8; 2026-05-04", "cannot be the km"),
        ("lane; 42; 0; 2026-05-04", "cannot be the kWh"),
        ("lane; 42; 9.8; 4 May", "is no date"),
    ],
)
def test_trips_that_cannot_be_read_name_their_line(pasted: str, what: str) -> None:
    faults = read_trips(f"\n{pasted}", LABELS)[1]
    assert ["Trips, line 2"] == [fault.where for fault in faults]
    assert what in faults[0].what


def test_faults_of_runs_and_trips_are_told_together_and_a_wrong_file_in_few() -> None:
    typed = replace(TYPED, runs="x\n" * 500, trips="lane; 1")
    with pytest.raises(ChoiceError) as caught:
        measurements_written(typed, LABELS)
    assert 12 + 1 + 1 == len(caught.value.faults)
    assert "488 more lines" in caught.value.faults[12].what


def test_tabs_semicolons_and_decimal_commas_are_read() -> None:
    runs, faults = read_runs("0\t80,5\n1;79,5\n2 ; 78.5\n3   77,5\n\n0 80\n1 79\n2 78\n3 77")
    assert not faults
    assert [80.5, 79.5, 78.5, 77.5] == runs[0]["speed_km_h"]


def test_a_difference_beyond_twice_the_doubt_is_said() -> None:
    fit = CoastDownFit(1.2, 0.012, 0.01, 0.0003, -0.9)
    compared = RoadLoadCompared(fit, Assumed(0.8, 0.05), Assumed(0.0121, 0.001), counts_now=True)
    drag, rolling = compared_rows(compared, "finished")
    assert "1.200 ± 0.020 m²" == drag.measured
    assert "50 % more: beyond what doubt explains" in drag.verdict
    assert "1 % less" == rolling.verdict
