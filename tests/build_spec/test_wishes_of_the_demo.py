"""Wishes in the demonstration workshop, each build told held to the whole pipeline."""

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.build_spec.wish_answer import WishAnswer
from configurator.build_spec.wish_pipeline import price_range_front, wished
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer, Preference, Wish
from configurator.catalog.models.catalog import Catalog

ENGINES = Engines()
WINTER = "country-winter"
RANGE, PRICE = "range_low_km", "price_gbp"


@cache
def demo() -> Catalog:
    return load_catalog(Path(__file__).parents[2] / "catalog")


def build_with(vehicle: str, *wishes: Wish, **more: object) -> BuildInput:
    return BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle=vehicle,
        priced_on=date(2026, 11, 25),
    ).model_copy(update={"wishes": wishes, **more})


def spec_of(build: BuildInput, choices: dict[str, str]) -> Spec:
    """Compute a build told as if somebody had chosen it group by group."""
    spec = specify(demo(), build.model_copy(update={"choices": choices}), ENGINES)
    assert spec.is_complete
    assert not [finding for finding in spec.findings if finding.severity == "blocks"]
    return spec


def answer_held_to_the_pipeline(build: BuildInput) -> WishAnswer:
    answer = wished(demo(), build, ENGINES)
    for told in answer.builds:
        spec = spec_of(build, told.choices)
        assert told.price_gbp == spec.price.total_low_gbp
        assert set(told.facts) <= set(spec.facts)
    return answer


@pytest.mark.parametrize(
    "vehicle",
    [
        pytest.param("marnock-estuary", marks=pytest.mark.thorough),
        pytest.param("fennick-linnet", marks=pytest.mark.thorough),
        "tarrow-furlong",
    ],
)
def test_wishes_that_can_be_met_bring_three_builds_that_meet_them(vehicle: str) -> None:
    wishes = (
        Wish(fact=RANGE, case=WINTER, at_least=120),
        Wish(fact=PRICE, at_most=70000),
        Wish(fact="charging_hours", case="dc-unit-50", at_most=1.5),
    )
    build = build_with(vehicle, *wishes)
    answer = answer_held_to_the_pipeline(build)
    assert answer.all_met
    assert 3 == len(answer.builds)
    for told in answer.builds:
        facts = {(fact.name, fact.case): fact.low for fact in told.facts}
        assert facts[RANGE, WINTER] >= 120
        assert facts[PRICE, None] <= 70000
        assert facts["charging_hours", "dc-unit-50"] <= 1.5
        assert "no-dc" != told.choices["dc-inlet"]


def test_wishes_that_cannot_all_be_met_say_the_least_that_gives_way() -> None:
    wishes = (Wish(fact=RANGE, case=WINTER, at_least=165), Wish(fact=PRICE, at_most=60000))
    build = build_with("marnock-estuary", *wishes)
    answer = answer_held_to_the_pipeline(build)
    assert not answer.all_met
    assert ((wishes[0],), (wishes[1],)) == answer.give_up
    far, cheap = answer.missed
    # Neither amount is one too much: with it the wishes can be met, with a hair less they cannot.
    for wish, changed, tighter in (
        (wishes[0], {"at_least": far.reachable - 0.001}, {"at_least": far.reachable + 0.01}),
        (wishes[1], {"at_most": cheap.reachable}, {"at_most": cheap.reachable - 0.01}),
    ):
        others = tuple(other for other in wishes if other != wish)
        for update, can_be_met in ((changed, True), (tighter, False)):
            given = build_with("marnock-estuary", *others, wish.model_copy(update=update))
            assert can_be_met == wished(demo(), given, ENGINES).all_met
    assert ["km", "GBP"] == [far.unit, cheap.unit]
    assert "dearer than the first" in " ".join(answer.builds[1].gives_up)


def test_a_preference_goes_before_the_price_and_what_is_given_up_is_said() -> None:
    wish = Wish(fact=PRICE, at_most=60000)
    fabric = Preference(group="roof", option="folding-fabric")
    build = build_with("fennick-linnet", wish, preferences=(fabric,))
    answer = answer_held_to_the_pipeline(build)
    assert "folding-fabric" == answer.builds[0].choices["roof"]
    assert 1 == answer.builds[0].preferences_kept
    for told in answer.builds:
        given_up = any(line.startswith("Gives up Folding fabric (roof)") for line in told.gives_up)
        assert given_up == (told.choices["roof"] != "folding-fabric")


def test_the_front_of_the_tourer_climbs_in_price_and_winter_range() -> None:
    build = build_with("fennick-linnet")
    front = price_range_front(demo(), build, ENGINES)
    assert (WINTER, "Country roads in winter") == (front.case_id, front.case_label)
    assert len(front.points) >= 3
    prices, ranges = [p.price_gbp for p in front.points], [p.range_km for p in front.points]
    assert (sorted(set(prices)), sorted(set(ranges))) == (prices, ranges)
    for point in front.points:
        spec = spec_of(build, point.choices)
        assert point.price_gbp == spec.price.total_low_gbp
        told = {(fact.name, fact.case): fact.low for fact in spec.facts}
        assert pytest.approx(point.range_km, abs=0.002) == told[RANGE, WINTER]
        assert point.label
