from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.app.view_models.wish_answers import (
    BuildCard,
    answer_heading,
    build_cards,
    choices_key,
    eased,
    give_up_lines,
    missed_lines,
)
from configurator.app.view_models.wish_facts import wishable_facts
from configurator.app.view_models.wish_front import (
    front_builds,
    front_note,
    front_rows,
    wanted_on,
)
from configurator.build_spec.wish_answer import WishAnswer, WishedBuild, WishMissed
from configurator.catalog.models.build import BuildInput, Preference, Wish
from configurator.drawings.price_range_front import Wanted
from tests.app.assessed import CATALOG
from tests.app.wished import CHOICES, JUNE, PRICE, fact, front, wished_build, wishing

FACTS = wishable_facts(CATALOG)


def card(found: WishedBuild, build: BuildInput) -> BuildCard:
    return build_cards(WishAnswer(all_met=True, builds=(found,)), build, CATALOG, FACTS)[0]


def missed(wish: Wish, reachable: float, short_by: float) -> WishMissed:
    return WishMissed(
        wish=wish, reachable=reachable, short_by=short_by, unit="km", sentence="Gives way."
    )


@pytest.mark.parametrize(
    ("reached", "standing"), [(100.0, "met"), (120.4, "met"), (99.6, "short by 1\xa0km")]
)
def test_a_wished_figure_says_how_it_stands_to_its_target(reached: float, standing: str) -> None:
    found = wished_build(fact("range_low_km", reached, "round-in-june"))
    figure = card(found, wishing(JUNE)).figures[0]
    assert (standing, standing == "met") == (figure.standing, figure.is_met)
    assert "at least 100\xa0km" == figure.target
    assert "The round in June" in figure.label


def test_a_price_beyond_its_target_says_over_by_whole_pounds_that_suffice() -> None:
    figure = card(wished_build(fact("price_gbp", 16_000.01)), wishing(PRICE)).figures[0]
    assert "over by £1" == figure.standing
    assert "£16,000.01" == figure.value


def test_a_range_is_never_shown_further_than_it_is() -> None:
    found = wished_build(fact("range_low_km", 99.6, "round-in-june"))
    assert "99\xa0km" == card(found, wishing(JUNE)).figures[0].value


def test_the_other_figures_follow_and_none_is_told_twice() -> None:
    range_fact = fact("range_low_km", 110.0, "round-in-june")
    mass, price = fact("kerb_mass_kg", 962.0), fact("price_gbp", 15035.63)
    figures = card(wished_build(range_fact, price, range_fact, mass), wishing(JUNE)).figures
    assert ["at least 100\xa0km", ""] == [figure.target for figure in figures]
    assert "962\xa0kg" == figures[1].value


def test_a_card_says_what_it_would_change_in_the_talk() -> None:
    build = wishing(choices={"cells": "many-cells", "livery": "nettle"})
    shown = card(wished_build(), build)
    changes = {line.group: line.change for line in shown.picks}
    assert {"Cells": "instead of Many cells", "Livery": "as chosen"}.items() <= changes.items()
    assert "" == changes["Box"]
    assert "Changes 1 choice made so far." == shown.changes


def test_a_card_of_the_build_chosen_now_says_so() -> None:
    assert card(wished_build(), wishing(choices=CHOICES)).is_chosen_now


def test_a_card_speaks_of_choices_kept_only_where_some_were_made() -> None:
    kept = wishing(choices=dict(list(CHOICES.items())[:1]))
    assert "Keeps every choice made so far." == card(wished_build(), kept).changes
    assert "" == card(wished_build(), wishing()).changes


def test_a_wish_about_what_is_not_fitted_is_missed_in_words() -> None:
    other = fact("range_low_km", 120.0, "round-in-june")
    fast = Wish(fact="charging_hours", case="yard-post", at_most=2)
    none, far = card(wished_build(other), wishing(fast, JUNE)).figures
    assert ("none", False) == (none.value, none.is_met)
    assert "cannot be had" in none.standing
    assert far.is_met


def test_two_wishes_about_one_fact_are_both_held_against_it() -> None:
    most = Wish(fact="range_low_km", case="round-in-june", at_most=110)
    shown = card(wished_build(fact("range_low_km", 120.0, "round-in-june")), wishing(JUNE, most))
    assert ["met", "over by 10\xa0km"] == [figure.standing for figure in shown.figures]


def test_preferences_are_counted_only_when_there_are_some() -> None:
    preferences = tuple(Preference(group="box", option=o) for o in ("cold-box", "bare-bed"))
    found = wished_build(preferences_kept=1)
    assert "Keeps 1 of 2 preferences" == card(found, wishing(preferences=preferences)).preferences
    assert "" == card(found, wishing()).preferences


def test_the_heading_says_whether_the_wishes_can_be_met() -> None:
    one = (wished_build(),)
    met, missing = WishAnswer(all_met=True, builds=one), WishAnswer(all_met=False, builds=one)
    assert "Both wishes can be met" == answer_heading(met, wishing(JUNE, PRICE))
    assert "The wish can be met" == answer_heading(met, wishing(JUNE))
    assert "cannot all be met" in answer_heading(missing, wishing(JUNE, PRICE))
    none = WishAnswer(all_met=False, builds=())
    assert "No complete build was found" == answer_heading(none, wishing(JUNE))


def test_a_missed_wish_offers_the_target_that_can_be_reached() -> None:
    answer = WishAnswer(all_met=False, builds=(), missed=(missed(JUNE, 84.9, 15.1),))
    line = missed_lines(answer, FACTS)[0]
    assert (JUNE, 84.0) == (line.wish, line.instead.at_least)
    assert "Ask for at least 84\xa0km" == line.button
    assert "instead of 100\xa0km" in line.heading


def test_a_wish_that_need_not_change_gets_no_button() -> None:
    kept = JUNE.model_copy(update={"at_least": 84.0})
    answer = WishAnswer(all_met=False, builds=(), missed=(missed(kept, 84.3, 0.0),))
    assert () == missed_lines(answer, FACTS)


def test_sets_of_wishes_to_give_up_are_told_with_their_targets() -> None:
    answer = WishAnswer(all_met=False, builds=(), give_up=((JUNE, PRICE), (PRICE,)))
    both, alone = give_up_lines(answer, FACTS)
    assert both.endswith("and Price with VAT at most £16,000")
    assert "Price with VAT at most £16,000" == alone


@given(st.floats(0, 1e6))
def test_an_eased_wish_holds_for_what_can_be_reached(reachable: float) -> None:
    least, most = eased(JUNE, reachable), eased(PRICE, reachable)
    assert least.at_least is not None
    assert most.at_most is not None
    assert least.at_least - 1e-6 <= reachable <= most.at_most + 1e-6
    assert reachable - least.at_least < 1.001
    assert most.at_most - reachable < 1.001


def test_a_key_tells_builds_apart_and_not_the_order_they_are_written_in() -> None:
    assert choices_key(CHOICES) == choices_key(dict(reversed(CHOICES.items())))
    assert choices_key(CHOICES) != choices_key({**CHOICES, "livery": "other"})


def test_list_and_chart_of_the_front_name_the_same_builds() -> None:
    found = front(("14000.50", 80.4), ("15500.00", 111.9))
    build = wishing(choices=dict(found.points[1].choices))
    rows, discs = front_rows(found, build), front_builds(found, build)
    assert [row.name for row in rows] == [disc.name for disc in discs]
    assert [False, True] == [row.is_chosen_now for row in rows] == [d.is_chosen for d in discs]
    assert ("£14,000.50", "80\xa0km", "Paint 0") == (rows[0].price, rows[0].range, rows[0].label)


def test_each_build_of_the_front_says_how_it_stands_to_the_targets() -> None:
    found = front(("15000", 80.0), ("15500", 120.0), ("17000", 130.0))
    told = [row.standing for row in front_rows(found, wishing(JUNE, PRICE))]
    assert ["short of the wished range", "as wished", "over the wished price"] == told
    assert {""} == {row.standing for row in front_rows(found, wishing())}


def test_only_the_target_for_the_range_on_the_chart_is_marked_on_it() -> None:
    january = Wish(fact="range_low_km", case="round-in-january", at_least=70)
    found = front(("15000", 80.0))
    assert Wanted(16_000.0, 100.0) == wanted_on(found, (january, JUNE, PRICE))
    assert Wanted(None, None) == wanted_on(found, (january,))


def test_a_front_says_whether_it_is_whole() -> None:
    assert "No other build is both" in front_note(front(("15000", 80.0)))
    assert "may be more" in front_note(front(("15000", 80.0), is_complete=False))
    assert "No complete build" in front_note(front())


def test_a_front_price_is_exact() -> None:
    assert Decimal("15000.01") == front(("15000.01", 80.0)).points[0].price_gbp
    assert "£15,000.01" == front_rows(front(("15000.01", 80.0)), wishing())[0].price
