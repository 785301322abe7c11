from __future__ import annotations

import re

import pytest
from streamlit.testing.v1 import AppTest

from configurator.app.view_models.your_day import (
    USUAL_DAY,
    day_written,
    entries_of,
    in_ten,
)
from configurator.build_spec.day_faults import read_day
from configurator.catalog.models.day import CustomersDay, Trailer
from configurator.errors import ChoiceError
from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def begin(open_screens: Opener) -> AppTest:
    return start_enquiry(open_screens()).button(key="to-day").click().run()


def slide(screen: AppTest, label: str, value: float) -> AppTest:
    return next(s for s in screen.slider if s.label.startswith(label)).set_value(value).run()


def fits(screen: AppTest) -> bool:
    found = re.search(r'data-fits="(yes|no)"', words(screen))
    assert found is not None
    return found[1] == "yes"


def test_a_longer_day_is_answered_at_once(open_screens: Opener) -> None:
    screen = begin(open_screens)
    near = slide(slide(screen, "On country roads", 0.0), "In town", 5.0)
    assert fits(near)
    far = slide(near, "On country roads", 300.0)
    assert not fits(far)
    assert "missing" in words(far)
    assert not screen.exception


def test_a_day_is_kept_forgotten_and_comes_back_with_undo(open_screens: Opener) -> None:
    screen = slide(begin(open_screens), "In town", 33.0)
    kept = screen.button(key="keep-day").click().run()
    assert kept.button(key="keep-day").disabled
    talk = kept.button(key="to-talk").click().run()
    again = talk.button(key="to-day").click().run()
    assert 33.0 == next(s for s in again.slider if s.label.startswith("In town")).value
    gone = again.button(key="forget-day").click().run()
    assert gone.button(key="forget-day").disabled
    undone = gone.button(key="to-talk").click().run().button(key="undo").click().run()
    back = undone.button(key="to-day").click().run()
    assert 33.0 == next(s for s in back.slider if s.label.startswith("In town")).value


def test_a_day_that_cannot_be_is_said_calmly(open_screens: Opener) -> None:
    screen = slide(slide(begin(open_screens), "In town", 0.0), "On country roads", 0.0)
    assert "needs a distance" in words(screen)
    assert not screen.exception


def test_a_trailer_that_nothing_allows_for_is_warned_of(open_screens: Opener) -> None:
    screen = begin(open_screens)
    box = next(box for box in screen.checkbox if "trailer" in box.label)
    assert "Do not tow it" in words(box.check().run())


def test_charging_in_frost_is_warned_of_and_on_a_mild_day_is_not(open_screens: Opener) -> None:
    frosty = slide(begin(open_screens), "Outside", -8.0)
    for part in ("colder than their maker allows", "may short-circuit within", "Never charge with"):
        assert part in words(frosty)
    assert "colder than their maker allows" not in words(slide(frosty, "Outside", 18.0))


@pytest.mark.parametrize(("typed", "what"), [(-50.0, "It is −50"), (1e6, "It is 1,000,000")])
def test_a_number_that_cannot_be_is_told_and_the_former_answer_is_gone(
    open_screens: Opener, typed: float, what: str
) -> None:
    screen = begin(open_screens)
    carried = next(choice for choice in screen.radio if choice.label.startswith("Who and what"))
    loaded = carried.set_value("kg").run()
    entry = next(each for each in loaded.number_input if each.label.startswith("People and"))
    said = words(entry.set_value(typed).run())
    assert what in said
    assert "data-fits" not in said
    assert "keep-day" not in [button.key for button in loaded.button]
    assert not loaded.exception


def test_an_entry_without_a_number_is_refused_and_never_taken_for_nought() -> None:
    with pytest.raises(ChoiceError, match="nothing stands there"):
        read_day({"town_km": 10, "load_kg": ""})


@pytest.mark.parametrize(
    "day",
    [
        USUAL_DAY,
        CustomersDay(town_km=1, load="laden", battery_c=12),
        CustomersDay(motorway_km=20, load_kg=120, trailer=Trailer(mass_kg=400), preheats=True),
        CustomersDay(country_km=7.5, hours_charging=1.5, charging_source="barn-socket"),
    ],
)
def test_a_day_spread_over_the_entries_is_written_back_as_it_was(day: CustomersDay) -> None:
    assert day == CustomersDay.model_validate(day_written(entries_of(day)))


def test_no_likelihood_is_told_as_certain() -> None:
    assert "more than nine times in ten" == in_ten(100.0)
    assert "hardly ever" == in_ten(0.0)
