"""Builds left against counting all builds computed one by one."""

import random

import pytest

from configurator.build_spec import remaining
from configurator.build_spec.remaining import builds_left
from configurator.build_spec.settle import settle
from configurator.catalog.models.rule import Limit
from configurator.rules import counting
from configurator.rules.counting import Count
from tests.build_spec.tiny_builds import (
    allowed_builds,
    build_of,
    compiled_of,
    every_build,
    tiny_catalog,
    with_limits,
)

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]


def range_limit(vehicle: str, seed: int) -> Limit:
    """Bound a range so that a share of all builds, from none to all but one, breaks it."""
    chance = random.Random(seed)  # noqa: S311  a seeded test needs no secrecy
    ranges = {key for build in every_build(vehicle) for key in build.facts if "range_low" in key[0]}
    name, case = chance.choice(sorted(ranges, key=str))
    values = sorted(build.facts[name, case] for build in every_build(vehicle))
    return Limit(
        id="far-enough",
        label="Range",
        limit=name,
        case=case,
        at_least=round(chance.choice([0, *values]) - 0.001, 3),
        because="A test wants it.",
        source="invented for tests",
    )


def answered(vehicle: str, seed: int) -> tuple[int, Count]:
    """Count builds with some picks one by one, and as the tool does."""
    compiled = compiled_of(with_limits(tiny_catalog(), range_limit(vehicle, seed)), vehicle)
    chance = random.Random(seed)  # noqa: S311  a seeded test needs no secrecy
    choices = chance.choice(every_build(vehicle)).choices
    picks = {g: o for g, o in choices.items() if chance.random() < seed % 4 / 4}
    expected = sum(picks.items() <= build.choices.items() for build in allowed_builds(compiled))
    return expected, builds_left(compiled, settle(compiled, build_of(vehicle, **picks)))


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", range(16))
def test_so_many_builds_are_left_as_computing_all_of_them_finds(
    vehicle: str, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(counting, "ONE_BY_ONE", len(every_build(vehicle)))
    expected, found = answered(vehicle, seed)
    assert Count(expected, is_exact=True) == found


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_range_limit_that_no_build_left_can_break_leaves_the_count_exact(
    vehicle: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(counting, "ONE_BY_ONE", 0)
    answers = [answered(vehicle, seed) for seed in range(40)]
    assert all(found.value >= expected for expected, found in answers)
    assert all(found.value == expected for expected, found in answers if found.is_exact)
    assert any(found.is_exact and expected for expected, found in answers)
    assert not all(found.is_exact for _, found in answers)
    monkeypatch.setattr(remaining, "WIDEST", 0)
    counts = [
        found.is_exact and bool(found.value)
        for _, found in map(answered, [vehicle] * 40, range(40))
    ]
    assert not any(counts)
