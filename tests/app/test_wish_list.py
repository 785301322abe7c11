from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.app.view_models.wish_facts import (
    WishableFact,
    amount_in_words,
    fact_of_wish,
    still_possible,
    target_in_words,
    wishable_facts,
)
from configurator.app.view_models.wish_list import (
    amount_in,
    amount_problem,
    answerable,
    keep_lines,
    moved,
    preferable,
    preference_lines,
    wish_for,
    wish_lines,
    with_wish,
    without_wish,
)
from configurator.catalog.models.build import Preference, Wish
from tests.app.assessed import CATALOG, assessed
from tests.app.wished import CHOICES, JUNE, PRICE, wishing

FACTS = wishable_facts(CATALOG)
BY_KEY = {known.key: known for known in FACTS}
HOURS = next(known for known in FACTS if known.fact == "charging_hours")
LIVERY = Preference(group="livery", option="nettle")
BOX = Preference(group="box", option="cold-box")
GONE = Preference(group="livery", option="mauve")


def test_every_driving_case_and_charging_source_can_be_wished_about() -> None:
    ranges = [known.case for known in FACTS if known.fact == "range_low_km"]
    assert sorted(case.id for case in CATALOG.driving_cases) == sorted(filter(None, ranges))
    assert list(CATALOG.workshop.headline_cases) == ranges[: len(CATALOG.workshop.headline_cases)]
    sources = [known.case for known in FACTS if known.fact == "charging_hours"]
    assert CATALOG.workshop.overnight_source == sources[0]
    assert len(CATALOG.charging_sources) == len(sources)


def test_no_two_facts_that_can_be_wished_about_read_alike() -> None:
    assert len(FACTS) == len(BY_KEY) == len({known.label for known in FACTS})
    assert all(known.about for known in FACTS)


def test_everything_that_can_be_wished_about_is_a_fact_of_the_build() -> None:
    computed = {(fact.name, fact.case) for fact in assessed(**CHOICES).spec.facts}
    assert {(known.fact, known.case) for known in FACTS} <= computed


@pytest.mark.parametrize(
    ("typed", "unit", "amount"),
    [
        ("46000", "GBP", 46000.0), (" £46 000 ", "GBP", 46000.0), ("£46,000.50", "GBP", 46000.5),
        ("150 km", "km", 150.0), ("1,250kg", "kg", 1250.0), ("6.5", "h", 6.5), ("2", "", 2.0),
        ("46\u202f000", "GBP", 46000.0), ("0", "kg", 0.0), ("١٥٠ km", "km", 150.0),
    ],
)  # fmt: skip
def test_an_amount_is_read_as_people_write_it(typed: str, unit: str, amount: float) -> None:
    assert amount == amount_in(typed, unit)


@pytest.mark.parametrize(
    "typed",
    ["", "  ", "1,5", "1.2.3", "-5", "1e9", "inf", "nan", "150 miles", "12345678", "£",
     "<b>1</b>", "1,50,000"],
)  # fmt: skip
def test_what_is_no_plain_number_is_refused_with_what_to_do(typed: str) -> None:
    assert amount_in(typed, "km") is None
    said = amount_problem(typed, BY_KEY["range_low_km-round-in-june-at-least"])
    assert "The round in June" in said
    assert "Write" in said


@given(st.text(max_size=30))
def test_any_text_is_either_read_or_refused_in_words(typed: str) -> None:
    assert (amount_in(typed, HOURS.unit) is None) == bool(amount_problem(typed, HOURS))


@pytest.mark.parametrize("known", FACTS, ids=lambda known: known.key)
def test_a_wish_is_on_the_side_that_its_fact_is_wished_on(known: WishableFact) -> None:
    wish = wish_for(known, 7.0)
    assert known == fact_of_wish(wish, FACTS)
    assert f"{known.side} {amount_in_words(known.fact, 7.0)}" == target_in_words(wish)


@given(st.integers(0, 9_999_999))
def test_what_a_line_writes_is_read_back_as_the_same_amount(thousandths: int) -> None:
    wish = JUNE.model_copy(update={"at_least": thousandths / 1000})
    line = wish_lines(wishing(wish), CATALOG, FACTS)[0]
    assert wish.at_least == amount_in(line.written, "km")


def test_what_is_possible_is_told_as_a_from_to_until_all_is_chosen() -> None:
    for key in ("range_low_km-round-in-june-at-least", "price_gbp-any-at-most"):
        assert re.match("As chosen so far: .*–.*\\.", still_possible(assessed().spec, BY_KEY[key]))
    for known in FACTS:
        said = still_possible(assessed(**CHOICES).spec, known)
        assert said.startswith("As chosen so far: ")
        assert ("edge" in said) == ("–" in said) == (known.fact == "range_low_km")


def test_nothing_is_said_about_a_figure_that_was_not_worked_out() -> None:
    without = assessed().spec.model_copy(update={"facts": ()})
    assert "" == still_possible(without, HOURS)


def test_a_wish_about_the_same_takes_the_place_of_the_former() -> None:
    stricter = PRICE.model_copy(update={"at_most": 15_000.0})
    assert (stricter, JUNE) == with_wish((PRICE, JUNE), stricter)
    assert (PRICE, JUNE) == with_wish((PRICE,), JUNE)
    assert (PRICE,) == without_wish((PRICE, JUNE), JUNE)


def test_a_wish_whose_case_the_catalog_has_lost_says_what_to_do() -> None:
    gone = Wish(fact="range_low_km", case="moon", at_least=5)
    line = wish_lines(wishing(gone), CATALOG, FACTS)[0]
    assert "moon" in line.fact.label
    assert "moon" in line.trouble
    assert ((JUNE,), ()) == answerable(wishing(gone, JUNE), CATALOG)
    assert not wish_lines(wishing(JUNE), CATALOG, FACTS)[0].trouble


def test_only_choices_made_can_be_kept() -> None:
    build = wishing(choices={"livery": "nettle", "box": "lost"}, must_keep=("livery",))
    lines = keep_lines(build, CATALOG)
    assert [("livery", True)] == [(line.group_id, line.is_kept) for line in lines]


def test_a_mark_on_a_choice_that_the_catalog_has_lost_can_be_taken_off() -> None:
    build = wishing(choices={"livery": "nettle", "box": "lost"}, must_keep=("box",))
    kept, lost = keep_lines(build, CATALOG)
    assert ("livery", False) == (kept.group_id, kept.is_kept)
    assert ("box", True) == (lost.group_id, lost.is_kept)
    assert "Box: “lost” is not offered any more" == lost.label


def test_preferences_are_told_in_their_order_and_offered_once() -> None:
    build = wishing(preferences=(BOX, LIVERY, GONE))
    lines = preference_lines(build, CATALOG)
    assert [(1, True), (2, True), (3, False)] == [
        (line.position, line.is_offered) for line in lines
    ]
    assert "Box: Cold box" == lines[0].label
    assert ((), (BOX, LIVERY)) == answerable(build, CATALOG)
    offered = preferable(build, CATALOG)
    assert not {BOX, LIVERY} & set(offered.values())
    assert len(offered) == sum(len(g.options) for g in CATALOG.groups_for("clover-float")) - 2


def test_an_option_of_another_vehicle_cannot_be_preferred() -> None:
    van = preferable(wishing(vehicle="clover-van"), CATALOG)
    assert BOX not in van.values()


@given(
    st.permutations([BOX, LIVERY, GONE]), st.sampled_from([BOX, LIVERY, GONE]), st.integers(-3, 3)
)
def test_moving_a_preference_loses_none(
    order: list[Preference], which: Preference, by: int
) -> None:
    after = moved(order, which, by)
    assert sorted(order, key=repr) == sorted(after, key=repr)
    assert min(max(order.index(which) + by, 0), 2) == after.index(which)


def test_moving_what_is_not_there_any_more_changes_nothing() -> None:
    assert (BOX,) == moved((BOX,), LIVERY, -1)
