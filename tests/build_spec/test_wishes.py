"""Answers to wishes agree with all builds of the tiny catalog computed one by one."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.wish_answer import WishAnswer
from configurator.build_spec.wish_front import FINEST_STEP_KM, MOST_POINTS, wish_front
from configurator.build_spec.wish_giving_way import HAIR
from configurator.build_spec.wish_kinds import APART_IN, RANGE_STEP_KM, telling_groups
from configurator.build_spec.wishes import MOST_BUILDS, answer_wishes
from configurator.catalog.models.build import BuildInput, Customer, Preference, Wish
from configurator.catalog.models.catalog import Catalog
from configurator.errors import ChoiceError
from tests.build_spec.tiny_builds import (
    FactKey,
    KnownBuild,
    allowed_builds,
    build_of,
    changed,
    compiled_of,
    every_build,
    tiny_catalog,
)

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
COMPILED = {vehicle: compiled_of(tiny_catalog(), vehicle) for vehicle in VEHICLES}
ALLOWED = {vehicle: allowed_builds(COMPILED[vehicle]) for vehicle in VEHICLES}
EITHER_SIDE = {
    "price_gbp",
    "kerb_mass_kg",
    "laden_rear_axle_kg",
    "payload_kg",
    "seats",
    "workshop_hours",
    "rear_share_change_points",
    "charging_hours",
    "usable_energy_kwh",
    "pack_voltage_over_v",
    "tyre_speed_margin_km_h",
}
LESS_IS_BETTER = {
    "handover_weeks",
    "consumption_wh_per_km",
    "seconds_to_50_km_h",
    "seconds_to_60_mph",
}


@dataclass(frozen=True)
class Case:
    """A build with wishes, and all builds that come into question for it."""

    build: BuildInput
    left: list[KnownBuild]

    @property
    def compiled(self) -> Compiled:
        return COMPILED[self.build.vehicle]

    def meeting(self, wishes: Iterable[Wish]) -> list[KnownBuild]:
        wanted = list(wishes)
        return [build for build in self.left if all(is_met(wish, build) for wish in wanted)]

    def rank(self, choices: dict[str, str]) -> tuple[object, ...]:
        """Preferences missed in order, other choices departed from, price."""
        missed = tuple(choices[p.group] != p.option for p in self.build.preferences)
        departed = sum(choices[group] != o for group, o in self.build.choices.items())
        return missed, departed, self.compiled.book.price.of(choices)


def value(build: KnownBuild, wish: Wish) -> float | None:
    return build.facts.get((wish.fact, wish.case))


def is_met(wish: Wish, build: KnownBuild) -> bool:
    reached = value(build, wish)
    if reached is None:
        return False
    return reached >= wish.at_least if wish.at_least is not None else reached <= wish.at_most


def keys_of(vehicle: str) -> list[FactKey]:
    return sorted({key for build in every_build(vehicle) for key in build.facts}, key=str)


@st.composite
def some_wish(draw: st.DrawFn, vehicle: str) -> Wish:
    name, case = draw(st.sampled_from(keys_of(vehicle)))
    values = sorted(b.facts[name, case] for b in every_build(vehicle) if (name, case) in b.facts)
    near = values[draw(st.integers(0, len(values) - 1))] + draw(st.sampled_from([-1.5, 0, 0.7]))
    target = round(near, 3)
    more = draw(st.booleans()) if name in EITHER_SIDE else name not in LESS_IS_BETTER
    return Wish(
        fact=name,
        case=case,
        at_least=target if more else None,
        at_most=None if more else target,
    )


@st.composite
def some_case(draw: st.DrawFn, most_wishes: int = 4) -> Case:
    vehicle = draw(st.sampled_from(VEHICLES))
    chosen = draw(st.sampled_from(every_build(vehicle))).choices
    groups = draw(st.lists(st.sampled_from(sorted(chosen)), unique=True, max_size=4))
    pairs = [pair for build in every_build(vehicle) for pair in build.choices.items()]
    preferred = draw(st.lists(st.sampled_from(sorted(set(pairs))), unique=True, max_size=3))
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle=vehicle,
        priced_on=date(2026, 11, 25),
        choices={group: chosen[group] for group in groups},
        must_keep=tuple(groups[: draw(st.integers(0, 2))]),
        wishes=tuple(draw(st.lists(some_wish(vehicle), max_size=most_wishes))),
        preferences=tuple(Preference(group=g, option=o) for g, o in preferred),
    )
    kept = {group: chosen[group] for group in build.must_keep}
    left = [known for known in ALLOWED[vehicle] if kept.items() <= known.choices.items()]
    return Case(build, left)


@settings(max_examples=120, deadline=None)
@given(case=some_case())
def test_the_answer_is_that_of_all_builds_looked_at_one_by_one(case: Case) -> None:
    answer = answer_wishes(case.compiled, case.build)
    allowed = [known.choices for known in case.left]
    assert all(build.choices in allowed for build in answer.builds)
    best = case.meeting(case.build.wishes)
    assert bool(best) == answer.all_met
    if best:
        _is_the_best(case, answer, best)
    elif case.left:
        _gives_up_the_fewest(case, answer)
    else:
        assert answer.must_keeps_in_the_way
        assert () == answer.builds


def _is_the_best(case: Case, answer: WishAnswer, meeting: list[KnownBuild]) -> None:
    expected = min(case.rank(known.choices) for known in meeting)
    assert expected == case.rank(answer.builds[0].choices)
    assert all(any(b.choices == known.choices for known in meeting) for b in answer.builds)
    _claims_hold(case, answer, meeting)


def _gives_up_the_fewest(case: Case, answer: WishAnswer) -> None:
    wishes = case.build.wishes
    fewest = next(
        sets
        for count in range(1, len(wishes) + 1)
        if (
            sets := [
                given_up
                for given_up in combinations(range(len(wishes)), count)
                if case.meeting(w for n, w in enumerate(wishes) if n not in given_up)
            ]
        )
    )
    assert [tuple(wishes[n] for n in given_up) for given_up in fewest] == list(answer.give_up)
    missed = {wishes.index(told.wish): told for told in answer.missed}
    for given_up in fewest:
        others = [w for n, w in enumerate(wishes) if n not in given_up]
        values = [
            v for b in case.meeting(others) if (v := value(b, wishes[given_up[0]])) is not None
        ]
        if len(given_up) == 1 and values:
            _gives_way_the_least(wishes[given_up[0]], values, missed[given_up[0]])
    told = []
    for build in answer.builds:
        known = next(known for known in case.left if known.choices == build.choices)
        told.append(tuple(n for n, wish in enumerate(wishes) if not is_met(wish, known)))
    if len(fewest) == 1:
        assert set(fewest) == set(told)
        return

    def rank(given_up: tuple[int, ...]) -> object:
        others = [w for n, w in enumerate(wishes) if n not in given_up]
        return min(case.rank(known.choices) for known in case.meeting(others))

    assert sorted(map(rank, fewest))[:MOST_BUILDS] == [rank(given_up) for given_up in told]


def _gives_way_the_least(wish: Wish, values: list[float], told: object) -> None:
    best = max(values) if wish.at_least is not None else min(values)
    assert pytest.approx(best, abs=1e-6) == told.reachable
    target = wish.at_least if wish.at_least is not None else wish.at_most
    assert pytest.approx(abs(best - target), abs=1e-6) == told.short_by
    assert told.short_by > 0


def _claims_hold(case: Case, answer: WishAnswer, meeting: list[KnownBuild]) -> None:
    """What a build is named by holds among all that meet the wishes; none is a near-copy."""
    winter = harder_headline_case(case.compiled.catalog).id
    found = {
        build.differs_by: next(k for k in meeting if k.choices == build.choices).facts
        for build in answer.builds
    }
    for differs_by, facts in found.items():
        if differs_by == "the cheapest":
            assert min(k.facts["price_gbp", None] for k in meeting) == facts["price_gbp", None]
        if differs_by == "ready soonest":
            soonest = min(known.facts["handover_weeks", None] for known in meeting)
            assert soonest == facts["handover_weeks", None]
        if differs_by.startswith("goes furthest"):
            furthest = max(known.facts["range_low_km", winter] for known in meeting)
            assert furthest - RANGE_STEP_KM - 0.001 <= facts["range_low_km", winter]
    groups = [group.id for group in telling_groups(case.compiled)]
    for one, other in combinations([build.choices for build in answer.builds], 2):
        assert sum(one[g] != other[g] for g in groups) >= APART_IN
    if len(answer.builds) < MOST_BUILDS:
        told = [build.choices for build in answer.builds]
        assert not any(
            all(sum(known.choices[g] != c[g] for g in groups) >= APART_IN for c in told)
            for known in meeting
        )


@settings(max_examples=40, deadline=None)
@given(case=some_case(most_wishes=0))
def test_no_build_beats_a_point_of_the_front_in_both_price_and_range(case: Case) -> None:
    front = wish_front(case.compiled, case.build)
    key: FactKey = ("range_low_km", front.case_id)
    known = [(b.facts["price_gbp", None], b.facts[key]) for b in case.left if key in b.facts]
    points = [(float(point.price_gbp), point.range_km) for point in front.points]
    assert bool(known) == bool(points)
    assert sorted(points) == points
    assert len(points) <= MOST_POINTS
    for price, range_km in points:
        assert pytest.approx(range_km, abs=0.002) == max(r for p, r in known if p <= price)
        assert price == min(p for p, r in known if r >= range_km - 1e-6)
    if front.is_complete:
        for price, range_km in known:
            nearest = max(r for p, r in points if p <= price)
            assert range_km < nearest + FINEST_STEP_KM
    if known:
        furthest_km = max(range_km for _, range_km in known)
        assert min(price for price, _ in known) == points[0][0]
        assert pytest.approx(furthest_km, abs=0.002) == points[-1][1]
        assert points[-1][0] == min(p for p, r in known if r >= furthest_km - HAIR)
    for point in front.points:
        assert any(point.choices == b.choices for b in case.left)
        facts = next(b.facts for b in case.left if b.choices == point.choices)
        assert pytest.approx(point.range_km, abs=0.002) == facts[key]


def _with_horse() -> Catalog:
    """The tiny catalog with a horse in the place of the cells: cheap, and it has no range."""
    catalog = tiny_catalog()
    cells = catalog.group_by_id["cells"]
    horse = cells.options[0].model_copy(
        update={"id": "horse", "label": "A horse", "fits": {}, "parts_gbp": Decimal("90.00")}
    )
    with_horse = cells.model_copy(update={"options": (*cells.options, horse)})
    groups = tuple(with_horse if g.id == "cells" else g for g in catalog.groups)
    return changed(catalog, "horse", groups=groups)


NEEDS_CELLS = [
    Wish(fact="range_low_km", case="lane", at_least=0),
    Wish(fact="consumption_wh_per_km", case="lane", at_most=100_000),
    Wish(fact="charging_hours", case="yard-post", at_most=1000),
    Wish(fact="usable_energy_kwh", at_most=1000),
]


@pytest.mark.parametrize("wish", NEEDS_CELLS, ids=lambda wish: wish.fact)
def test_a_build_that_does_not_have_the_fact_misses_the_wish(wish: Wish) -> None:
    compiled = compiled_of(_with_horse(), "clover-van")
    build = build_of("clover-van")
    assert "horse" == answer_wishes(compiled, build).builds[0].choices["cells"]
    answer = answer_wishes(compiled, build.model_copy(update={"wishes": (wish,)}))
    assert answer.all_met
    assert "horse" not in {told.choices["cells"] for told in answer.builds}
    front = wish_front(compiled, build)
    assert front.points
    assert "horse" not in {point.choices["cells"] for point in front.points}


@pytest.mark.parametrize("wish", NEEDS_CELLS, ids=lambda wish: wish.fact)
def test_a_mark_that_leaves_no_build_with_the_fact_is_said_to_stand_in_the_way(wish: Wish) -> None:
    compiled = compiled_of(_with_horse(), "clover-van")
    build = build_of("clover-van", cells="horse")
    answer = answer_wishes(
        compiled, build.model_copy(update={"wishes": (wish,), "must_keep": ("cells",)})
    )
    assert not answer.all_met
    assert ((wish,),) == answer.give_up
    assert () == answer.missed
    assert wish.fact not in {fact.name for fact in answer.builds[0].facts}
    assert answer.must_keeps_in_the_way.startswith("A horse (cells)")


def test_marks_that_contradict_each_other_are_said_with_the_rule() -> None:
    build = build_of("clover-float", cells="many-cells", springs="old-springs")
    answer = answer_wishes(
        COMPILED["clover-float"], build.model_copy(update={"must_keep": ("cells", "springs")})
    )
    assert () == answer.builds
    assert "the old springs would sag" in answer.must_keeps_in_the_way


def test_a_mark_without_a_choice_is_a_fault() -> None:
    build = build_of("clover-float", cells="coal").model_copy(
        update={"must_keep": ("cells", "springs")}
    )
    with pytest.raises(ChoiceError) as caught:
        answer_wishes(COMPILED["clover-float"], build)
    assert ["S010", "S010"] == [fault.code for fault in caught.value.faults]


def test_a_front_of_an_unknown_case_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(ChoiceError, match='Did you mean "lane"'):
        wish_front(COMPILED["clover-van"], build_of("clover-van"), "lanes")
