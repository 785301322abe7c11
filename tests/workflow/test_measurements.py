from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest

from configurator.catalog.models.measurements import CoastDown, MeasuredTrip, Measurements
from configurator.errors import ChoiceError, ConfiguratorError, MeasurementError, StaleDraftError
from configurator.record.changes import list_changes
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import (
    outline_of_draft,
    pick_option,
    set_house_choices,
    undo_last_change,
)
from configurator.workflow.measurement_faults import read_measurements
from configurator.workflow.measurements import road_load_compared, set_measurements
from configurator.workflow.premises import Premises
from tests.coasting import coast_down, runs_of

TRIP = MeasuredTrip(driven_on=date(2026, 3, 1), case="lane", km=40, energy_kwh=9)
MEASURED = Measurements(coast_down=coast_down(), trips=(TRIP,))


def test_measurements_are_on_disk_and_one_undo_takes_them_away(
    premises: Premises, reference: str, now: datetime
) -> None:
    before = read_draft(premises, reference)
    saved = set_measurements(
        premises, reference, revision=before.revision, measurements=MEASURED, now=now
    )
    assert saved == read_draft(premises, reference)
    assert MEASURED == saved.build.measurements
    assert "measurements" == list_changes(premises.record, reference)[-1].kind
    undone = undo_last_change(premises, reference, revision=saved.revision, now=now)
    assert before.build == undone.build


def test_the_same_again_changes_nothing_even_from_an_older_view(
    premises: Premises, reference: str, now: datetime
) -> None:
    saved = set_measurements(premises, reference, revision=1, measurements=MEASURED, now=now)
    again = set_measurements(
        premises, reference, revision=1, measurements=MEASURED.model_dump(), now=now
    )
    assert saved == again


def test_measurements_decided_on_an_older_view_are_refused_and_tell_what_changed(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_measurements(premises, reference, revision=1, measurements=MEASURED, now=now)
    with pytest.raises(StaleDraftError, match="measured on the road was changed"):
        set_measurements(premises, reference, revision=1, measurements=None, now=now)
    assert MEASURED == read_draft(premises, reference).build.measurements


def test_taking_them_away_is_told_as_such(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_measurements(premises, reference, revision=1, measurements=MEASURED, now=now)
    set_measurements(premises, reference, revision=2, measurements=None, now=now)
    with pytest.raises(StaleDraftError, match="measured on the road was taken away"):
        set_measurements(premises, reference, revision=2, measurements=MEASURED, now=now)


def test_a_pick_keeps_them(premises: Premises, reference: str, now: datetime) -> None:
    set_measurements(premises, reference, revision=1, measurements=MEASURED, now=now)
    picked = pick_option(
        premises, reference, revision=2, group_id="livery", option_id="nettle", now=now
    )
    assert MEASURED == picked.build.measurements


def trip(**changes: object) -> dict[str, object]:
    return {"trips": [{**TRIP.model_dump(), **changes}]}


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        (trip(case="moon"), 'no driving case "moon"'),
        (trip(km=0), "Distance of a trip, trip 1"),
        (trip(energy_kwh=300), "7.5 kWh for each kilometre"),
        (trip(driven_on="2026-03-05"), "still to come"),
        (trip(driven_on="soon"), "Day of a trip, trip 1"),
        ({"coast_down": {**coast_down().model_dump(), "mass_kg": 10}}, "Mass with everybody"),
        ({"coast_down": {**coast_down().model_dump(), "runs": ()}}, "Runs"),
        ({"trip": []}, "Measurements"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_saved(
    premises: Premises, reference: str, now: datetime, entries: dict[str, object], words: str
) -> None:
    with pytest.raises(ChoiceError, match=words) as caught:
        set_measurements(premises, reference, revision=1, measurements=entries, now=now)
    assert {"P017"} == {fault.code for fault in caught.value.faults}
    assert Measurements() == read_draft(premises, reference).build.measurements


@pytest.mark.parametrize(
    ("entries", "told"),
    [
        (
            trip(km=0),
            "Distance of a trip, trip 1: “0” is too little. Write more than 1 km. [P017]",
        ),
        (
            trip(driven_on="soon"),
            "Day of a trip, trip 1: “soon” is no day. Write day, month and year. [P017]",
        ),
        (
            {"coast_down": {**coast_down().model_dump(), "temperature_c": 60}},
            "Air in the test: “60” is too much. Write at most 45 °C. [P017]",
        ),
        (
            {"coast_down": {**coast_down().model_dump(), "runs": ()}},
            "Runs: there are 0. Write at least 2. [P017]",
        ),
        (
            {"coast_down": {**coast_down().model_dump(), "mass_kg": None}},
            "Mass with everybody in it: nothing stands there. Write what was measured. [P017]",
        ),
    ],
)
def test_what_is_wrong_is_said_in_words_with_its_unit(
    entries: dict[str, object], told: str
) -> None:
    with pytest.raises(ChoiceError) as refused:
        read_measurements(entries)
    assert told in [str(fault) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"runs": runs_of(from_km_h=60, to_km_h=50)}, "cannot be told apart"),
        ({"mass_kg": 5000.0, "runs": runs_of(drag_area_m2=3.5)}, "drag area of"),
    ],
)
def test_runs_that_say_what_no_vehicle_has_are_refused(
    premises: Premises,
    reference: str,
    now: datetime,
    changes: dict[str, object],
    words: str,
) -> None:
    wrong = coast_down().model_copy(update=changes)
    for ask in (
        lambda: set_measurements(
            premises, reference, revision=1, measurements=Measurements(coast_down=wrong), now=now
        ),
        lambda: road_load_compared(premises, read_draft(premises, reference), wrong),
    ):
        with pytest.raises(MeasurementError, match=words):
            ask()
    assert Measurements() == read_draft(premises, reference).build.measurements


def test_a_coast_down_is_held_against_the_catalog_before_it_is_kept(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    reference = enquiry(vehicle="clover-float")
    start = read_draft(premises, reference)
    test = coast_down()
    still_open = road_load_compared(premises, start, test)
    assert not still_open.counts_now
    assert still_open.drag_area_m2 is None
    draft = set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    compared = road_load_compared(premises, draft, test)
    assert compared.counts_now
    assert pytest.approx(1.31, rel=0.02) == compared.fit.drag_area_m2
    assert pytest.approx(0.0104, rel=0.03) == compared.fit.rolling_resistance
    assert compared.drag_area_m2 is not None
    assert compared.rolling_resistance is not None
    assert compared.drag_area_m2.sigma > compared.fit.drag_area_sigma_m2
    assert draft == read_draft(premises, reference)


def test_of_the_donor_only_the_drag_area_is_compared(
    premises: Premises, enquiry: Callable[..., str]
) -> None:
    draft = read_draft(premises, enquiry(vehicle="clover-float"))
    test: CoastDown = coast_down("donor")
    compared = road_load_compared(premises, draft, test)
    vehicle = premises.catalog.vehicle_by_id["clover-float"]
    assert compared.drag_area_m2 is not None
    assert vehicle.drag_area_m2.value == compared.drag_area_m2.value
    assert compared.rolling_resistance is None


def test_a_kept_coast_down_moves_the_ranges_of_the_draft(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    reference = enquiry(vehicle="clover-float")
    before = set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    kept = set_measurements(
        premises,
        reference,
        revision=2,
        measurements=Measurements(coast_down=coast_down()),
        now=now,
    )
    narrow, wide = (outline_of_draft(premises, draft).ranges[0] for draft in (kept, before))
    assert narrow.high_km / narrow.low_km < wide.high_km / wide.low_km


def test_every_wrong_entry_is_told_at_once(
    premises: Premises, reference: str, now: datetime
) -> None:
    entries = trip(km=0, energy_kwh=-1)
    with pytest.raises(ConfiguratorError) as caught:
        set_measurements(premises, reference, revision=1, measurements=entries, now=now)
    assert 2 == len(caught.value.faults)
