"""Answers to wishes agree with all builds of the tiny catalog computed one by one."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.wish_answer import WishAnswer
from configurator.build_spec.wish_front import FINEST_STEP_KM, MOST_POINTS, wish_front
from configurator.build_spec.wish_kinds import APART_IN, RANGE_STEP_KM, telling_groups
from configurator.build_spec.wishes import MOST_BUILDS, answer_wishes
from configurator.catalog.models.build import BuildInput, Customer, Preference, Wish
from tests.build_spec.tiny_builds import (
    FactKey,
    KnownBuild,
    allowed_builds,
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
LESS_IS_BETTER = {"handover_weeks", "consumption_wh_per_km"}


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
    for build in answer.builds:
        known = next(known for known in case.left if known.choices == build.choices)
        given_up = tuple(n for n, wish in enumerate(wishes) if not is_met(wish, known))
        assert given_up in fewest


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
        assert pytest.approx(range_km, abs=1e-6) == max(r for p, r in known if p <= price)
        assert price == min(p for p, r in known if r >= range_km - 1e-6)
    if front.is_complete:
        for price, range_km in known:
            nearest = max(r for p, r in points if p <= price)
            assert range_km < nearest + FINEST_STEP_KM
    for point in front.points:
        assert any(point.choices == b.choices for b in case.left)
        facts = next(b.facts for b in case.left if b.choices == point.choices)
        assert pytest.approx(point.range_km, abs=0.002) == facts[key]
