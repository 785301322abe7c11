"""Facts of physics move one way with mass and effects: exact answers rest on it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.drive_state import DriveState
from tests.build_spec.tiny_builds import compiled_of, every_build, tiny_catalog, with_limits

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
BOOKS = {v: compiled_of(with_limits(tiny_catalog()), v).book for v in VEHICLES}
STEPS = {0: 0.05, 1: 0.001, 2: 10.0, 3: 80.0}
"""A step of each effect: drag area [m²], rolling resistance, heat loss [W/K], auxiliaries [W]."""


def facts_with_mass(vehicle: str) -> list[DriveFact]:
    return [fact for fact in BOOKS[vehicle].drive_facts if fact.mass]


@settings(max_examples=40, deadline=None)
@given(
    vehicle=st.sampled_from(VEHICLES),
    number=st.integers(min_value=0),
    added_g=st.integers(min_value=1, max_value=400_000),
)
def test_no_fact_gains_by_mass(vehicle: str, number: int, added_g: int) -> None:
    builds = every_build(vehicle)
    choices = builds[number % len(builds)].choices
    for fact in facts_with_mass(vehicle):
        state = BOOKS[vehicle].state(fact, choices)
        heavier = replace(state, mass_g=state.mass_g + added_g)
        assert_no_better(fact, state, heavier)


@settings(max_examples=40, deadline=None)
@given(
    vehicle=st.sampled_from(VEHICLES),
    number=st.integers(min_value=0),
    effect=st.sampled_from(sorted(STEPS)),
    steps=st.floats(min_value=0.01, max_value=5),
)
def test_no_fact_gains_by_an_effect(vehicle: str, number: int, effect: int, steps: float) -> None:
    builds = every_build(vehicle)
    choices = builds[number % len(builds)].choices
    for fact in facts_with_mass(vehicle):
        state = BOOKS[vehicle].state(fact, choices)
        more = list(state.effects)
        more[effect] += STEPS[effect] * steps
        assert_no_better(fact, state, replace(state, effects=tuple(more)))


def assert_no_better(fact: DriveFact, state: DriveState, worse: DriveState) -> None:
    before, after = fact.evaluate([state, worse])
    assert (before is None) == (after is None)
    if before is not None and after is not None:
        gained = after - before if fact.falls else before - after
        assert gained <= 1e-9, fact.name


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_axle_loads_of_every_build_sum_to_its_mass(vehicle: str) -> None:
    # Source: static equilibrium, the loads on both axles sum to the weight.
    for build in every_build(vehicle):
        facts = build.facts
        for when in ("kerb", "laden"):
            front = facts[f"{when}_front_axle_kg", None]
            rear = facts[f"{when}_rear_axle_kg", None]
            assert pytest.approx(facts[f"{when}_mass_kg", None], abs=1e-6) == front + rear
