from __future__ import annotations

import math
from collections.abc import Callable
from datetime import datetime

import pytest

from configurator.catalog.models.day import CustomersDay
from configurator.errors import ChoiceError, StaleDraftError
from configurator.record.changes import list_changes
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option, undo_last_change
from configurator.workflow.customers_days import day_answered, set_day
from configurator.workflow.papers import make_spec_sheet
from configurator.workflow.premises import Premises

DAY = CustomersDay(town_km=12, country_km=8, temperature_c=-5)


def test_a_day_is_on_disk_and_one_undo_takes_it_away(
    premises: Premises, reference: str, now: datetime
) -> None:
    before = read_draft(premises, reference)
    saved = set_day(premises, reference, revision=before.revision, day=DAY, now=now)
    assert saved == read_draft(premises, reference)
    assert saved.build.day == DAY
    assert "day" == list_changes(premises.record, reference)[-1].kind
    undone = undo_last_change(premises, reference, revision=saved.revision, now=now)
    assert before.build == undone.build


def test_the_same_day_again_changes_nothing_even_from_an_older_view(
    premises: Premises, reference: str, now: datetime
) -> None:
    saved = set_day(premises, reference, revision=1, day=DAY, now=now)
    again = set_day(premises, reference, revision=1, day=DAY.model_dump(), now=now)
    assert saved == again


def test_a_day_decided_on_an_older_view_is_refused_and_tells_what_changed(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_day(premises, reference, revision=1, day=DAY, now=now)
    with pytest.raises(StaleDraftError, match="day was changed"):
        set_day(premises, reference, revision=1, day=None, now=now)
    assert read_draft(premises, reference).build.day == DAY


def test_a_pick_keeps_the_day(premises: Premises, reference: str, now: datetime) -> None:
    saved = set_day(premises, reference, revision=1, day=DAY, now=now)
    picked = pick_option(
        premises,
        reference,
        revision=saved.revision,
        group_id="livery",
        option_id="nettle",
        now=now,
    )
    assert picked.build.day == DAY


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ({"town_km": -1}, "0 to 1000 km"),
        ({"town_km": 5000}, "0 to 1000 km"),
        ({"town_km": math.nan}, "cannot be read"),
        ({"town_km": math.inf}, "cannot be read"),
        ({"town_km": "far"}, "cannot be read"),
        ({"town_km": 10, "temperature_c": 280}, "-30 to 45 °C"),
        ({"town_km": 10, "trailer": {"mass_kg": 90_000}}, "0 to 3500 kg"),
        ({"town_km": 0}, "needs a distance"),
        ({"town_km": 1, "climbed_m": 900}, "steeper than roads"),
        ({"town_km": 1, "load": "laden", "load_kg": 5}, "two different loads"),
        ({"town_km": 10, "charging_source": "moon"}, "does not have"),
        ({"town_km": 10, "descended_m": 1400}, "gives? back"),
    ],
)
def test_a_day_that_cannot_be_is_refused_with_what_can(
    premises: Premises,
    reference: str,
    now: datetime,
    entries: dict[str, object],
    words: str,
) -> None:
    for ask in (
        lambda: set_day(premises, reference, revision=1, day=entries, now=now),
        lambda: day_answered(premises, read_draft(premises, reference), entries),
    ):
        with pytest.raises(ChoiceError, match=words):
            ask()
    assert read_draft(premises, reference).build.day is None


def test_every_wrong_entry_is_told_at_once(premises: Premises, reference: str) -> None:
    entries = {"town_km": -1, "cabin_c": 90, "reserve_percent": 100}
    with pytest.raises(ChoiceError) as caught:
        day_answered(premises, read_draft(premises, reference), entries)
    assert ["S014"] * 3 == [fault.code for fault in caught.value.faults]


def test_a_day_is_answered_before_it_is_kept(
    premises: Premises, enquiry: Callable[..., str]
) -> None:
    draft = read_draft(premises, enquiry(vehicle="clover-float"))
    short, long = (day_answered(premises, draft, {"town_km": km}) for km in (5, 500))
    assert short is not None
    assert long is not None
    assert short.new.fits
    assert not long.new.fits
    assert draft == read_draft(premises, draft.build.reference)


def test_the_spec_sheet_of_a_build_with_a_day_can_be_made(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    reference = enquiry(vehicle="clover-float")
    set_day(premises, reference, revision=1, day={"town_km": 5}, now=now)
    assert make_spec_sheet(premises, reference, now=now)
