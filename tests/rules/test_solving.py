"""The solver's part, which small problems would never reach through the engine."""

from hypothesis import given
from hypothesis import strategies as st

from configurator.rules.clauses import clauses_of
from configurator.rules.limits import limit_of
from configurator.rules.options import option_bits
from configurator.rules.propagation import Rules, narrowed
from configurator.rules.search import light_ranks, search
from configurator.rules.solving import solved, solved_at_least
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
    limits = [limit_of(limit, names) for limit in problem.limits]
    return names, Rules(names.group_masks, clauses_of(problem.implications, names), limits)


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
    build = solved_at_least(rules, sum_of(quantity, names), domain) if domain else 0
    assert bool(sums) == bool(build)
    assert not build or min(sums) == quantity.of(names.choices(build))


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
    found = search(rules, domain, light_ranks(rules, domain), nodes=0)
    assert found.settled or not found.build
    assert found.settled == (not domain or domain == found.build)
