"""Counts of builds against counting them one by one."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.rules import bounded_count, counting, frontier
from configurator.rules.counting import Count, count_builds
from configurator.rules.forbidden import forbidden_in, opened
from configurator.rules.problem import (
    ConditionalLimit,
    Domain,
    Implication,
    Problem,
    Quantity,
)
from configurator.rules.split_count import count_apart
from tests.rules.small_problems import all_builds, has, picks_of, problems, steady, subsets


@st.composite
def questions(draw):
    problem = draw(problems())
    restricted = draw(st.lists(st.sampled_from(problem.domains), max_size=2, unique=True))
    allowed = {domain.id: draw(subsets(domain, least=0)) for domain in restricted}
    return problem, draw(picks_of(problem)), allowed


def true_count(problem, picks, allowed):
    return sum(
        has(build, picks) and all(build[group] in some for group, some in allowed.items())
        for build in all_builds(problem)
    )


@given(questions())
@steady
def test_so_many_builds_are_left_as_looking_at_all_of_them_finds(question):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(counting, "ONE_BY_ONE", 4**5)
        assert Count(true_count(*question), is_exact=True) == count_builds(*question)


@pytest.mark.parametrize(
    ("module", "name", "value"),
    [
        (frontier, "MOST_STATES", 1),
        (bounded_count, "MOST_STATES", 2),
        (counting, "WORTH_BOUNDING", 0),
        (counting, "ONE_BY_ONE", 3),
    ],
)
@given(question=questions())
@steady
def test_where_counting_is_cut_short_it_says_no_less_than_the_truth(module, name, value, question):
    expected = true_count(*question)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, name, value)
        found = count_builds(*question)
    assert found.value >= expected
    assert not found.is_exact or found.value == expected


@given(questions())
@steady
def test_counting_connected_parts_separately_finds_the_same(question):
    problem, picks, allowed = question
    of_rules = replace(problem, conditional_limits=(), lazy_limits=())
    left = opened(of_rules, picks, allowed)
    expected = true_count(of_rules, picks, allowed)
    assert expected == count_apart(left, forbidden_in(of_rules), most_steps=1000)


def chain(length):
    """Groups in a row, of which neighbours may not both take the same of two options."""
    groups = tuple(Domain(f"g{at}", ("a", "b", "c")) for at in range(length))
    rules = tuple(
        Implication(
            f"{each}{at}", {f"g{at}": frozenset(each)}, {f"g{at + 1}": frozenset("abc") - {each}}
        )
        for at in range(length - 1)
        for each in "ab"
    )
    return Problem(groups, rules, ())


def test_more_builds_than_anybody_could_list_are_counted_exactly():
    # Words over a, b, c without "aa" and "bb": w(n) = 2 w(n-1) + w(n-2), w(0) = 1, w(1) = 3.
    before, words = 1, 3
    for _ in range(59):
        before, words = words, 2 * words + before
    assert Count(words, is_exact=True) == count_builds(chain(60), {})


def test_forgetting_a_rule_leaves_a_bound_that_is_not_told_as_exact(monkeypatch):
    exact = count_builds(chain(12), {}).value
    monkeypatch.setattr(frontier, "MOST_STATES", 2)
    assert Count(exact, is_exact=True) == count_builds(chain(12), {})
    monkeypatch.setattr(counting, "MOST_SPLITS", 2)
    bound = count_builds(chain(12), {})
    assert not bound.is_exact
    assert exact < bound.value < 3**12


def test_a_limit_that_nothing_left_can_break_leaves_the_count_exact():
    heavy = Quantity(0, {(f"g{at}", "c"): 10 for at in range(30)})
    loose = ConditionalLimit("mass", {}, heavy, 300)
    problem = replace(chain(30), conditional_limits=(loose,))
    assert count_builds(chain(30), {}) == count_builds(problem, {})
    tight = ConditionalLimit("mass", {}, heavy, 299)
    assert not count_builds(replace(chain(30), conditional_limits=(tight,)), {}).is_exact


def test_a_sum_that_is_too_great_for_certain_leaves_nothing():
    over = ConditionalLimit("mass", {}, Quantity(7, {}), 6)
    for problem in (Problem((), (), (over,)), replace(chain(40), conditional_limits=(over,))):
        assert Count(0, is_exact=True) == count_builds(problem, {})


def test_a_problem_without_groups_has_one_build():
    assert Count(1, is_exact=True) == count_builds(Problem((), (), ()), {})


@pytest.mark.parametrize(
    ("picks", "allowed"), [({"g0": "z"}, {}), ({"z": "a"}, {}), ({}, {"z": frozenset("a")})]
)
def test_counting_refuses_what_the_problem_does_not_have(picks, allowed):
    with pytest.raises(ValueError, match=r"z.*do(es)? not exist here"):
        count_builds(chain(3), picks, allowed)
