"""How near to a limit builds can come is the best of all builds computed one by one."""

import pytest

from configurator.build_spec.extremes import Asking
from configurator.build_spec.nearest_build import fact_values, nearest_build
from configurator.catalog.models.rule import Limit
from tests.build_spec.test_exactness import FROM_ABOVE, FROM_BELOW
from tests.build_spec.tiny_builds import (
    FactKey,
    allowed_builds,
    compiled_of,
    every_build,
    tiny_catalog,
    with_limits,
)

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]


def keys_of(vehicle: str) -> list[FactKey]:
    """List the facts that every build of a vehicle has."""
    builds = every_build(vehicle)
    return sorted({key for key in builds[0].facts if all(key in b.facts for b in builds)}, key=str)


def limits_on(key: FactKey) -> list[Limit]:
    """Bound a fact from each side that a catalog may bound it from."""
    sides = [("at_most", key[0] not in FROM_BELOW), ("at_least", key[0] not in FROM_ABOVE)]
    return [
        Limit(
            id="drawn",
            label="Drawn",
            limit=key[0],
            case=key[1],
            because="A test wants it.",
            source="invented for tests",
            **{side: 0.0},
        )
        for side, is_meant in sides
        if is_meant
    ]


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("picked", [0, 2])
def test_the_nearest_build_is_the_best_of_all_builds(vehicle: str, picked: int) -> None:
    compiled = compiled_of(with_limits(tiny_catalog()), vehicle)
    builds = allowed_builds(compiled)
    picks = dict(sorted(builds[-1].choices.items())[:picked])
    left = [build for build in builds if picks.items() <= build.choices.items()]
    told = set()
    for key in keys_of(vehicle):
        for limit in limits_on(key):
            found = nearest_build(compiled.book, Asking(compiled.engine, picks), limit)
            values = [build.facts[key] for build in left]
            best = min(values) if limit.at_most is not None else max(values)
            assert found is not None
            assert pytest.approx(best, abs=1e-6) == found.value, key
            (named,) = [build for build in left if build.choices == dict(found.build)]
            assert pytest.approx(best, abs=1e-6) == named.facts[key], key
            told.add(key[0])
    assert {
        "price_gbp",
        "rear_axle_margin_kg",
        "rear_share_change_points",
        "handover_weeks",
        "range_low_km",
        "charging_hours",
        "pack_voltage_over_v",
        "payload_kg",
    } <= told


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_the_values_of_many_builds_are_those_of_each(vehicle: str) -> None:
    compiled = compiled_of(with_limits(tiny_catalog()), vehicle)
    builds = every_build(vehicle)[::7]
    for key in keys_of(vehicle):
        values = fact_values(compiled.book, limits_on(key)[0], [b.choices for b in builds])
        assert pytest.approx([build.facts[key] for build in builds]) == values
