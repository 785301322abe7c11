"""Availability and every from–to agree with all builds computed one by one."""

import math
import random
from functools import cache
from pathlib import Path

import pytest

from configurator.build_spec.drive_extremes import NEAR_KM, RANGES
from configurator.build_spec.engines import Engines
from configurator.build_spec.extremes import Asking
from configurator.build_spec.facts import extents_of_complete, extents_of_open
from configurator.build_spec.findings import breaks_rule
from configurator.build_spec.near_limit import RangeLimits
from configurator.build_spec.pipeline import outline, specify
from configurator.build_spec.settle import settle
from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import Limit
from tests.build_spec.tiny_builds import (
    FactKey,
    allowed_builds,
    build_of,
    compiled_of,
    every_build,
    tiny_catalog,
    with_limits,
)

DEMO_VEHICLES = [
    pytest.param("fennick-linnet", marks=pytest.mark.thorough),
    pytest.param("marnock-estuary", marks=pytest.mark.thorough),
    "tarrow-furlong",
]
VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
FROM_ABOVE = {
    "price_gbp",
    "kerb_mass_kg",
    "laden_rear_axle_kg",
    "laden_front_axle_kg",
    "handover_weeks",
    "rear_share_change_points",
    "centre_of_gravity_height_m",
    "left_share_percent",
    "roof_load_kg",
    "charging_hours",
    "consumption_wh_per_km",
    "workshop_hours",
}
FROM_BELOW = {
    "range_low_km",
    "range_high_km",
    "front_axle_margin_kg",
    "rear_axle_margin_kg",
    "low_voltage_margin_w",
    "payload_kg",
    "rollover_threshold_g",
    "rear_braking_share_percent",
    "hill_restart_percent",
    "cruise_power_margin_kw",
    "top_speed_km_h",
}


NOT_TOLD = {
    (name, case.id)
    for name in ("range_mid_km", "consumption_wh_per_km")
    for case in tiny_catalog().driving_cases
}


def limit_at(vehicle: str, key: FactKey, share: float) -> Limit:
    """Make a limit that about a share of all builds keeps, its bound the value of one of them."""
    name, case = key
    values = sorted(build.facts[key] for build in every_build(vehicle) if key in build.facts)
    above = name in FROM_ABOVE
    place = min(len(values) - 1, int(len(values) * (share if above else 1 - share)))
    # Bounds are written with few decimals by people; the next thousandth that keeps the build.
    bound = round(values[place] + (0.001 if above else -0.001), 3)
    return Limit(
        id=f"limit-{name.replace('_', '-')}-{case or 'all'}",
        label=name,
        limit=name,
        case=case,
        at_most=bound if above else None,
        at_least=None if above else bound,
        because="A test wants it.",
        source="invented for tests",
    )


def some_limits(vehicle: str, seed: int) -> list[Limit]:
    chance = random.Random(seed)  # noqa: S311  a seeded test needs no secrecy
    keys = sorted(
        {key for build in every_build(vehicle) for key in build.facts if _may_bound(key)},
        key=str,
    )
    return [limit_at(vehicle, key, chance.uniform(0.4, 0.95)) for key in chance.sample(keys, 3)]


def _may_bound(key: FactKey) -> bool:
    return key[0] in FROM_ABOVE | FROM_BELOW


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", range(12))
def test_availability_is_that_of_all_builds_computed_one_by_one(vehicle: str, seed: int) -> None:
    catalog = with_limits(tiny_catalog(), *some_limits(vehicle, seed))
    compiled = compiled_of(catalog, vehicle)
    builds = [build.choices for build in allowed_builds(compiled)]
    picks = _some_picks(builds, seed)
    settled = settle(compiled, build_of(vehicle, **picks))
    for group in compiled.offer.groups:
        others = {g: o for g, o in picks.items() if g != group.id}
        possible = {b[group.id] for b in builds if others.items() <= b.items()}
        expected = {option.id: option.id in possible for option in group.options}
        assert expected == settled.available[group.id]


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", range(8))
def test_every_from_to_is_that_of_all_builds_computed_one_by_one(vehicle: str, seed: int) -> None:
    catalog = with_limits(tiny_catalog(), *some_limits(vehicle, seed))
    compiled = compiled_of(catalog, vehicle)
    builds = allowed_builds(compiled)
    picks = _some_picks([build.choices for build in builds], seed)
    left = [build for build in builds if picks.items() <= build.choices.items()]
    if not left:
        assert not settle(compiled, build_of(vehicle, **picks)).is_possible
        return
    blocking = [forms for forms in compiled.limits if forms.limit.severity == "blocks"]
    asking = Asking(compiled.engine, picks)
    range_limits = RangeLimits(compiled)
    extents = extents_of_open(
        compiled.book,
        asking,
        blocking,
        lambda case: range_limits.reached(case, picks),
        lambda *_: True,
    )
    found = {(e.name, e.case): (e.low, e.high) for e in extents}
    for key in {key for build in left for key in build.facts} - NOT_TOLD:
        values = [build.facts[key] for build in left if key in build.facts]
        low, high = min(values), max(values)
        if key[0] == "range_low_km":
            high = low  # only the outer edges of a band are told while choices are open
        if key[0] == "range_high_km":
            low = high
        # Where it takes long, a range is told as up to 100 m wider, never as narrower.
        slack = NEAR_KM if key[0] in RANGES else 1e-6
        told_low, told_high = found[key]
        assert low - slack <= told_low <= low + 1e-6, key
        assert high - 1e-6 <= told_high <= high + slack, key


@cache
def demo_catalog() -> Catalog:
    return load_catalog(Path("catalog"))


@pytest.mark.parametrize("vehicle", DEMO_VEHICLES)
def test_no_build_of_the_demo_lies_outside_what_is_told_of_it(vehicle: str) -> None:
    compiled = Engines().compiled(demo_catalog(), build_of(vehicle))
    chance = random.Random(vehicle)  # noqa: S311  a seeded test needs no secrecy
    groups = compiled.offer.groups
    picks = dict(chance.sample(sorted(compiled.offer.house_choices().items()), 2))
    spec = specify(
        demo_catalog(), build_of(vehicle).model_copy(update={"choices": picks}), Engines()
    )
    told = {(fact.name, fact.case): (fact.low, fact.high) for fact in spec.facts}
    for _ in range(25):
        wished = {group.id: chance.choice(group.options).id for group in groups}
        build = compiled.engine.completion(picks, wished, compiled.book.price)
        assert build is not None
        for extent in extents_of_complete(compiled.book, build):
            low, high = told.get((extent.name, extent.case), (-math.inf, math.inf))
            assert extent.name == "range_high_km" or low <= extent.low + 1e-3
            assert extent.name == "range_low_km" or high >= extent.high - 1e-3


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_the_rules_alone_leave_exactly_the_builds_that_break_none(vehicle: str) -> None:
    compiled = compiled_of(with_limits(tiny_catalog()), vehicle)
    for build in every_build(vehicle):
        broken = any(breaks_rule(rule, build.choices) for rule in compiled.rules)
        assert broken != compiled.engine.is_possible(build.choices)


def _some_picks(builds: list[dict[str, str]], seed: int) -> dict[str, str]:
    """Pick two options of some build that is allowed; none where there is no such build."""
    if not builds:
        return {}
    chance = random.Random(seed + 1000)  # noqa: S311  a seeded test needs no secrecy
    build = chance.choice(builds)
    return {group: build[group] for group in chance.sample(sorted(build), 2)}


@pytest.mark.parametrize("vehicle", DEMO_VEHICLES)
def test_no_from_to_of_the_demo_reaches_beyond_a_limit_that_blocks(vehicle: str) -> None:
    compiled = Engines().compiled(demo_catalog(), build_of(vehicle))
    spec = specify(demo_catalog(), build_of(vehicle), Engines())
    told = {(fact.name, fact.case): fact for fact in spec.facts}
    blocking = [forms for forms in compiled.limits if forms.limit.severity == "blocks"]
    assert blocking
    for forms in blocking:
        fact = told.get((forms.limit.limit, forms.limit.case))
        if fact is not None and forms.limit.at_least is not None:
            assert forms.bound <= fact.low + 1e-3, forms.limit.id
        if fact is not None and forms.limit.at_most is not None:
            assert forms.bound >= fact.high - 1e-3, forms.limit.id


@pytest.mark.parametrize("vehicle", DEMO_VEHICLES[::2])
def test_an_open_spec_does_not_depend_on_what_was_asked_before(vehicle: str) -> None:
    warm = Engines()
    house = house_choices(vehicle)
    drafts = [
        build_of(vehicle).model_copy(update={"choices": dict(list(house.items())[:taken])})
        for taken in (0, 2, 5)
    ]
    for draft in drafts:
        outline(demo_catalog(), draft, warm)
    expected = specify(demo_catalog(), drafts[-1], Engines()).model_dump_json()
    assert expected == specify(demo_catalog(), drafts[-1], warm).model_dump_json()


def house_choices(vehicle: str) -> dict[str, str]:
    return Engines().compiled(demo_catalog(), build_of(vehicle)).offer.house_choices()
