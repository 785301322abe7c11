from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from configurator.rules.engine import Engine
from configurator.rules.narrower import narrower_engine
from configurator.rules.problem import (
    ConditionalLimit,
    Conflict,
    Domain,
    Implication,
    Problem,
    Quantity,
)
from tests.rules.small_problems import (
    SpreadLimit,
    all_builds,
    conditional_limits,
    has,
    implications,
    lazy_limits,
    picks_of,
    problems,
    problems_and_picks,
    quantities,
    steady,
    subsets,
    without,
)

ROOF_AND_FLOOR = Problem(
    (Domain("roof", ("steel", "canvas")), Domain("floor", ("cork", "carpet"))),
    (Implication("dry", {"floor": frozenset({"carpet"})}, {"roof": frozenset({"steel"})}),),
    (),
)


def true_availability(problem, picks):
    builds = all_builds(problem)
    return {
        domain.id: {
            option: any(
                has(build, without(picks, domain.id) | {domain.id: option}) for build in builds
            )
            for option in domain.options
        }
        for domain in problem.domains
    }


@given(problems_and_picks())
@steady
def test_an_option_is_available_exactly_when_some_build_has_it_beside_the_other_picks(case):
    problem, picks = case
    assert true_availability(problem, picks) == Engine(problem).availability(picks)


@given(problems_and_picks())
@steady
def test_picks_are_possible_exactly_when_some_build_has_them(case):
    problem, picks = case
    expected = any(has(build, picks) for build in all_builds(problem))
    assert expected == Engine(problem).is_possible(picks)


@given(st.data())
@steady
def test_a_warm_engine_answers_like_a_cold_one_whatever_the_order_of_picks(data):
    problem = data.draw(problems())
    cost = data.draw(quantities(problem.domains))
    warm = Engine(problem)
    for _ in range(4):
        picks = data.draw(picks_of(problem))
        backwards = dict(reversed(picks.items()))
        cold = Engine(problem)
        assert cold.availability(picks) == warm.availability(backwards)
        assert cold.minimise(cost, picks) == warm.minimise(cost, backwards)
        assert cold.least_peak([cost], picks) == warm.least_peak([cost], backwards)
        assert cold.completion({}, picks, cost) == warm.completion({}, backwards, cost)
        if not warm.is_possible(picks):
            assert Engine(problem).conflict(picks) == warm.conflict(backwards)


@given(st.data())
@steady
def test_picking_what_is_available_never_leads_to_a_dead_end(data):
    problem = data.draw(problems())
    engine = Engine(problem)
    assume(engine.is_possible({}))
    picks = {}
    for domain in problem.domains:
        offered = [option for option, yes in engine.availability(picks)[domain.id].items() if yes]
        picks[domain.id] = data.draw(st.sampled_from(offered))
    assert engine.is_possible(picks)


@given(st.data())
@steady
def test_adding_a_rule_never_makes_more_options_available(data):
    problem = data.draw(problems())
    picks = data.draw(picks_of(problem))
    more = Problem(
        problem.domains,
        (*problem.implications, data.draw(implications(problem.domains, "one-more"))),
        (*problem.conditional_limits, data.draw(conditional_limits(problem.domains, "one-more"))),
        (*problem.lazy_limits, data.draw(lazy_limits(problem.domains, "one-more"))),
    )
    before = Engine(problem).availability(picks)
    for group, options in Engine(more).availability(picks).items():
        assert not [option for option, yes in options.items() if yes and not before[group][option]]


def only(problem, found, *, leave_out=None):
    """The problem with nothing but the rules of a conflict, less one of them."""
    implications_left = [name for name in found.implications if leave_out != ("implication", name)]
    limits_left = [name for name in found.limits if leave_out != ("limit", name)]
    return Problem(
        problem.domains,
        tuple(rule for rule in problem.implications if rule.id in implications_left),
        tuple(limit for limit in problem.conditional_limits if limit.id in limits_left),
        tuple(limit for limit in problem.lazy_limits if limit.id in limits_left),
    )


def some_build(problem, picks):
    return any(has(build, picks) for build in all_builds(problem))


@given(problems_and_picks())
@steady
def test_a_conflict_is_impossible_and_no_member_of_it_can_be_dropped(case):
    problem, picks = case
    assume(not some_build(problem, picks))
    found = Engine(problem).conflict(picks)
    assert set(found.picks) <= set(picks.items())
    assert len(set(found.implications)) == len(found.implications)
    assert len(set(found.limits)) == len(found.limits)
    assert not some_build(only(problem, found), dict(found.picks))
    for group, _ in found.picks:
        assert some_build(only(problem, found), without(dict(found.picks), group))
    for member in [("implication", each) for each in found.implications] + [
        ("limit", each) for each in found.limits
    ]:
        assert some_build(only(problem, found, leave_out=member), dict(found.picks))


@given(problems_and_picks())
@steady
def test_asking_for_the_reasons_of_possible_picks_is_refused(case):
    problem, picks = case
    assume(some_build(problem, picks))
    with pytest.raises(ValueError, match="possible together"):
        Engine(problem).conflict(picks)


def earliest(problem, builds, wanted):
    """The first of the builds wanted, by the order of groups and their options."""
    return min(
        (build for build in builds if wanted(build)),
        key=lambda build: [domain.options.index(build[domain.id]) for domain in problem.domains],
    )


@given(st.data())
@steady
def test_the_least_peak_is_that_of_all_builds(data):
    problem, picks = data.draw(problems_and_picks())
    several = data.draw(st.lists(quantities(problem.domains), min_size=1, max_size=3))
    builds = [build for build in all_builds(problem) if has(build, picks)]
    peaks = [max(quantity.of(build) for quantity in several) for build in builds]
    assert min(peaks, default=None) == Engine(problem).least_peak(several, picks)


@given(st.data())
@steady
def test_both_extremes_have_the_values_of_all_builds_and_some_build_that_has_them(data):
    problem, picks = data.draw(problems_and_picks())
    quantity = data.draw(quantities(problem.domains))
    engine = Engine(problem)
    builds = [build for build in all_builds(problem) if has(build, picks)]
    sums = [quantity.of(build) for build in builds]
    for expected, greatest in ((min(sums, default=None), False), (max(sums, default=None), True)):
        found = engine.extreme(quantity, picks, greatest=greatest)
        assert expected == (None if found is None else found[0])
        if found is not None:
            assert expected == quantity.of(found[1])
            assert found[1] in builds


def test_the_greatest_of_no_quantities_is_refused():
    with pytest.raises(ValueError, match="there are none"):
        Engine(ROOF_AND_FLOOR).least_peak([], {})


@given(st.data())
@steady
def test_the_least_of_a_quantity_is_that_of_all_builds_with_the_earliest_options(data):
    problem, picks = data.draw(problems_and_picks())
    quantity = data.draw(quantities(problem.domains))
    restricted = data.draw(st.lists(st.sampled_from(problem.domains), max_size=2, unique=True))
    allowed = {domain.id: data.draw(subsets(domain, least=0)) for domain in restricted}
    builds = [
        build
        for build in all_builds(problem)
        if has(build, picks) and all(build[group] in some for group, some in allowed.items())
    ]
    sums = [quantity.of(build) for build in builds]
    engine = Engine(problem)
    least = engine.minimise(quantity, picks, allowed)
    if not sums:
        assert least is None
        return
    best = min(sums)
    assert (best, earliest(problem, builds, lambda each: quantity.of(each) == best)) == least


@given(st.data())
@steady
def test_a_completion_keeps_most_preferred_options_and_then_costs_least(data):
    problem, picks = data.draw(problems_and_picks())
    preferred = data.draw(picks_of(problem))
    cost = data.draw(quantities(problem.domains))

    def merit(build):
        return (
            sum(build[group] != option for group, option in preferred.items()),
            cost.of(build),
        )

    merits = [merit(build) for build in all_builds(problem) if has(build, picks)]
    found = Engine(problem).completion(picks, preferred, cost)
    if not merits:
        assert found is None
        return
    builds = [build for build in all_builds(problem) if has(build, picks)]
    assert earliest(problem, builds, lambda build: merit(build) == min(merits)) == found


@given(st.data())
@steady
def test_two_threads_on_one_engine_get_the_answers_of_one(data):
    problem = data.draw(problems())
    cases = [data.draw(picks_of(problem)) for _ in range(6)]
    expected = [Engine(problem).availability(picks) for picks in cases]
    shared = Engine(problem)
    with ThreadPoolExecutor(2) as threads:
        assert expected == list(threads.map(shared.availability, cases))


def test_a_conflict_names_the_same_limit_whichever_was_told_first():
    weights = {(group, f"o{n}"): n for group in ("g0", "g1") for n in range(10)}
    domains = tuple(Domain(group, tuple(f"o{n}" for n in range(10))) for group in ("g0", "g1"))
    lazies = (
        SpreadLimit("loose", ("g0", "g1"), weights, 6),
        SpreadLimit("tight", ("g0", "g1"), weights, 4),
    )
    problem = Problem(domains, (), (), lazies)
    picks = {"g0": "o0", "g1": "o9"}
    warm = Engine(problem)
    assert not warm.is_possible({"g0": "o0", "g1": "o5"})
    assert Engine(problem).conflict(picks) == warm.conflict(picks)


@given(st.data())
@steady
def test_threads_that_ask_an_engine_and_narrower_ones_at_once_get_the_answers_of_one(data):
    problem = data.draw(problems())
    cost = data.draw(quantities(problem.domains))
    more = [data.draw(conditional_limits(problem.domains, f"more-{at}")) for at in range(2)]
    cases = [data.draw(picks_of(problem)) for _ in range(4)]

    def engines():
        wide = Engine(problem)
        return [wide, *(narrower_engine(wide, limits=[limit]) for limit in more)]

    def answers(engine, picks):
        reason = None if engine.is_possible(picks) else engine.conflict(picks)
        return engine.availability(picks), engine.minimise(cost, picks), reason

    asked = [(at, picks) for picks in cases for at in range(3)]
    expected = [answers(engines()[at], picks) for at, picks in asked]
    shared = engines()
    with ThreadPoolExecutor(4) as threads:
        assert expected == list(threads.map(lambda each: answers(shared[each[0]], each[1]), asked))


@given(problems_and_picks())
@steady
def test_answers_with_more_picks_never_regain_an_option(case):
    problem, picks = case
    engine = Engine(problem)
    steps = [dict(list(picks.items())[:count]) for count in range(len(picks) + 1)]
    for fewer, more in pairwise(steps):
        before, after = engine.availability(fewer), engine.availability(more)
        for domain in problem.domains:
            if domain.id not in more:
                assert not [
                    option
                    for option in domain.options
                    if after[domain.id][option] and not before[domain.id][option]
                ]


@pytest.mark.parametrize("call", ["is_possible", "availability", "conflict"])
def test_an_unknown_group_is_named_in_the_error(call):
    engine = Engine(ROOF_AND_FLOOR)
    with pytest.raises(ValueError, match=r'group "rof" does not exist.*"roof"'):
        getattr(engine, call)({"rof": "steel"})


def test_an_unknown_option_is_named_in_the_error():
    engine = Engine(ROOF_AND_FLOOR)
    with pytest.raises(ValueError, match=r'option of group "roof" "steal".*"steel"'):
        engine.minimise(Quantity(0, {}), {"roof": "steal"})


def test_a_sum_beyond_exact_numbers_is_refused():
    limit = ConditionalLimit("mass", {}, Quantity(0, {("roof", "steel"): 2**61}), 5)
    with pytest.raises(ValueError, match="coarser unit"):
        Engine(Problem(ROOF_AND_FLOOR.domains, (), (limit,)))


def test_a_problem_that_allows_nothing_has_a_reason_without_picks():
    never = Implication("never", {}, {"roof": frozenset()})
    engine = Engine(Problem(ROOF_AND_FLOOR.domains, (never,), ()))
    assert not engine.is_possible({})
    expected = Conflict(picks=(), implications=("never",), limits=())
    assert expected == engine.conflict({})


def test_a_problem_without_groups_has_one_empty_build():
    engine = Engine(Problem((), (), ()))
    expected: dict = {}
    assert expected == engine.availability({})
    assert expected == engine.completion({}, {}, Quantity(7, {}))


@given(st.data())
@steady
def test_what_is_known_at_once_is_never_wrong(data):
    problem = data.draw(problems())
    engine = Engine(problem)
    for _ in range(3):
        picks = data.draw(picks_of(problem))
        so_far = engine.availability_so_far(picks)
        for group, options in true_availability(problem, picks).items():
            for option, possible in options.items():
                assert so_far[group][option] in {None, possible}
        engine.availability(picks)
        told = engine.availability_so_far(picks)
        assert all(value is not None for options in told.values() for value in options.values())
