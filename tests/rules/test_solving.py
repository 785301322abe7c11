"""The solver's part, which small problems would never reach through the engine."""

from hypothesis import given
from hypothesis import strategies as st

from configurator.rules.compiling import compiled_rules
from configurator.rules.extremes import first_build_by_questions
from configurator.rules.options import option_bits
from configurator.rules.problem import ConditionalLimit, Domain, Problem, Quantity
from configurator.rules.propagation import narrowed
from configurator.rules.search import light_ranks, search
from configurator.rules.solving import refuted_by, solved, solved_at_least, solved_first
from configurator.rules.sums import sum_of
from tests.rules.small_problems import (
    all_builds,
    has,
    picks_of,
    problems,
    problems_and_picks,
    quantities,
    steady,
)


def compiled(problem):
    names = option_bits(problem.domains)
    return names, compiled_rules(problem, names)


@given(problems_and_picks())
@steady
def test_the_solver_finds_a_build_exactly_when_there_is_one(case):
    problem, picks = case
    names, rules = compiled(problem)
    domain = narrowed(rules, names.within(names.everything, names.pick_mask(picks)))
    builds = [build for build in all_builds(problem) if has(build, picks)]
    build = solved(rules, domain) if domain else 0
    assert bool(builds) == bool(build)
    assert not build or names.choices(build) in builds


@given(st.data())
@steady
def test_the_solver_finds_the_least_sum(data):
    problem = data.draw(problems())
    picks = data.draw(picks_of(problem))
    quantity = data.draw(quantities(problem.domains))
    names, rules = compiled(problem)
    domain = narrowed(rules, names.within(names.everything, names.pick_mask(picks)))
    sums = [quantity.of(build) for build in all_builds(problem) if has(build, picks)]
    build = solved_at_least(rules, [sum_of(quantity, names)], domain) if domain else 0
    assert bool(sums) == bool(build)
    assert not build or min(sums) == quantity.of(names.choices(build))


@given(problems_and_picks())
@steady
def test_the_solver_finds_the_build_with_the_earliest_options(case):
    problem, picks = case
    names, rules = compiled(problem)
    domain = narrowed(rules, names.within(names.everything, names.pick_mask(picks)))
    builds = [build for build in all_builds(problem) if has(build, picks)]
    build = solved_first(rules, domain) if domain else 0
    expected = builds[0] if builds else {}
    assert expected == names.choices(build)
    assert expected == names.choices(first_build_by_questions(rules, domain))


@given(problems_and_picks())
@steady
def test_the_rules_that_refute_picks_refute_them_alone(case):
    problem, picks = case
    names, rules = compiled(problem)
    start = names.within(names.everything, names.pick_mask(picks))
    used = refuted_by(rules, start)
    builds = [build for build in all_builds(problem) if has(build, picks)]
    assert bool(builds) == (used is None)
    if used is not None:
        assert not solved(rules.of_members(used), start)


@given(problems_and_picks())
@steady
def test_narrowing_never_removes_an_option_of_a_build(case):
    problem, picks = case
    names, rules = compiled(problem)
    domain = narrowed(rules, names.within(names.everything, names.pick_mask(picks)))
    for build in all_builds(problem):
        if has(build, picks):
            bits = names.pick_mask(build)
            assert bits == bits & domain


@given(problems())
@steady
def test_a_search_without_budget_says_that_it_does_not_know(problem):
    names, rules = compiled(problem)
    domain = narrowed(rules, names.everything)
    found = search(rules, domain, light_ranks(rules, domain) if domain else {}, nodes=0)
    assert found.settled or not found.build
    if found.build:
        assert names.choices(found.build) in all_builds(problem)
    elif found.settled:
        assert not all_builds(problem)


def test_a_conditional_limit_leaves_the_greatest_sum_possible_away_from_its_condition():
    problem = Problem(
        (Domain("roof", ("low", "tall")), Domain("pack", ("small", "large"))),
        (),
        (),
        (
            ConditionalLimit(
                "mass", {"roof": frozenset({"tall"})}, Quantity(0, {("pack", "large"): 5}), 0
            ),
        ),
    )
    names, rules = compiled(problem)
    large = names.within(names.everything, names.bit("pack", "large"))
    assert {"roof": "low", "pack": "large"} == names.choices(solved(rules, large))
