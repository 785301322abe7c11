"""Questions that trying options does not settle, and numbers near the greatest allowed."""

from contextlib import contextmanager
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.rules import least, prover
from configurator.rules.engine import Engine
from configurator.rules.options import option_places
from configurator.rules.problem import ConditionalLimit, Domain, Problem, Quantity
from configurator.rules.row_table import RowTable
from configurator.rules.rows import GREATEST_NUMBER, IMPLIED, Row, row_of_limit, sum_of
from configurator.rules.solver import solved
from configurator.rules.surrogates import implied_row
from tests.rules.small_problems import all_builds, has, problems_and_picks, quantities, steady


@contextmanager
def giving_up_after(before_sharpening, before_solver):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(prover, "NODES_BEFORE_SHARPENING", before_sharpening)
        patch.setattr(prover, "NODES_BEFORE_SOLVER", before_solver)
        patch.setattr(least, "NODES_BEFORE_SOLVER", before_solver)
        yield


patience = st.sampled_from([(0, 0), (0, 2), (1, 1), (1, 4), (2, 8)])


@given(st.data(), patience)
@steady
def test_answers_are_the_same_however_soon_the_search_gives_up(data, nodes):
    problem, picks = data.draw(problems_and_picks())
    quantity = data.draw(quantities(problem.domains))
    patient = Engine(problem)
    with giving_up_after(*nodes):
        hasty = Engine(problem)
        assert patient.availability(picks) == hasty.availability(picks)
        assert patient.minimise(quantity, picks) == hasty.minimise(quantity, picks)
        assert patient.least_peak([quantity] * 2, picks) == hasty.least_peak([quantity] * 2, picks)
        if not patient.is_possible(picks):
            assert patient.conflict(picks) == hasty.conflict(picks)


@given(st.data(), patience, st.integers(1, 9), st.integers(0, 50))
@steady
def test_no_build_passes_a_bound_and_one_comes_within_the_gap(data, nodes, factor, gap):
    problem, picks = data.draw(problems_and_picks())
    weight = st.integers(-9, 9).map(lambda number: number * factor)
    quantity = Quantity(
        1, {(d.id, option): data.draw(weight) for d in problem.domains for option in d.options}
    )
    builds = [build for build in all_builds(problem) if has(build, picks)]
    values = [quantity.of(build) for build in builds]
    with giving_up_after(*nodes):
        for greatest, sign in ((False, 1), (True, -1)):
            found = Engine(problem).reach(quantity, picks, greatest=greatest, gap=gap)
            if not builds:
                assert found is None
                continue
            assert found.build in builds
            assert quantity.of(found.build) == found.value
            assert sign * found.bound <= min(sign * value for value in values)
            assert 0 <= sign * (found.value - found.bound) < max(gap, 1)


def test_a_bound_holds_where_sums_do_not_divide_the_gap():
    """Sums differ by sevens, so within a gap of 20 another may be better by 14, not by 13 alone."""
    domains = tuple(Domain(f"g{at}", tuple("abcd")) for at in range(7))
    pairs = [(domain.id, option) for domain in domains for option in domain.options]
    cut_short = 0
    for seed in range(40):
        weights = np.random.default_rng(seed).integers(0, 60, (3, len(pairs))).tolist()
        first, second, sought = (dict(zip(pairs, of, strict=True)) for of in weights)
        limits = tuple(
            ConditionalLimit(name, {}, Quantity(0, each), 210)
            for name, each in (("mass", first), ("price", second))
        )
        sum_of_sevens = Quantity(0, {pair: -7 * weight for pair, weight in sought.items()})
        problem = Problem(domains, (), limits)
        exact = Engine(problem).extreme(sum_of_sevens, {})
        with giving_up_after(1, 4):
            found = Engine(problem).reach(sum_of_sevens, {}, gap=20)
        assert found.bound <= exact[0] <= found.value < found.bound + 20
        cut_short += found.bound != found.value
    assert cut_short


def wide_problem(weight):
    """Two groups of more options than a word has bits, with weights up to a size."""
    domains = tuple(Domain(f"g{at}", tuple(f"o{n}" for n in range(130))) for at in range(2))
    heavy = {
        (domain.id, option): weight - 3 * (place % 11) * (place + at)
        for at, domain in enumerate(domains)
        for place, option in enumerate(domain.options)
    }
    light = {("g0", "o0"): -weight, ("g1", "o129"): -weight + 1}
    steep = ConditionalLimit("steep", {"g1": frozenset({"o129"})}, Quantity(0, heavy), weight)
    return domains, Quantity(0, heavy), Quantity(5, light), steep


@pytest.mark.parametrize("weight", [1, 2**53, 2**58])
@pytest.mark.parametrize("nodes", [(0, 0), (100, 300)])
def test_wide_groups_and_great_weights_are_counted_exactly(weight, nodes):
    domains, heavy, light, steep = wide_problem(weight)
    problem = Problem(domains, (), (steep, ConditionalLimit("cap", {}, heavy, 2 * weight - 900)))
    builds = all_builds(problem)
    with giving_up_after(*nodes):
        engine = Engine(problem)
        for quantity in (heavy, light):
            sums = [quantity.of(build) for build in builds]
            assert min(sums) == engine.extreme(quantity, {})[0]
            assert max(sums) == engine.extreme(quantity, {}, greatest=True)[0]
        peaks = [max(heavy.of(build), light.of(build)) for build in builds]
        assert min(peaks) == engine.least_peak([heavy, light], {})
        for domain in domains:
            taken = {build[domain.id] for build in builds}
            expected = {option: option in taken for option in domain.options}
            assert expected == engine.availability({})[domain.id]


def test_the_solver_adds_weights_that_together_pass_what_it_can_count():
    domains, heavy, light, steep = wide_problem(2**58)
    places = option_places(domains)
    row = row_of_limit(steep, sum_of(heavy, places), places)
    total = sum_of(light, places)
    found = solved(places, [row], places.every, [total])
    expected = min(
        light.of(build)
        for options in product(*(domain.options for domain in domains))
        if steep.keeps(build := dict(zip(("g0", "g1"), options, strict=True)))
    )
    assert expected == light.of(places.choices(found))


def test_a_bound_far_below_every_sum_forbids_everything():
    domains = (Domain("roof", ("steel", "canvas")),)
    never = ConditionalLimit("never", {}, Quantity(0, {("roof", "steel"): 1}), -(10**30))
    assert not Engine(Problem(domains, (), (never,))).is_possible({})


def test_many_rows_beside_the_rules_are_heeded_where_the_search_gives_up():
    domains = tuple(Domain(f"g{at}", tuple("abc")) for at in range(14))
    places = option_places(domains)
    heavy = Quantity(0, {(d.id, option): n for d in domains for n, option in enumerate("abc")})
    light = Quantity(0, {(d.id, option): n for d in domains for n, option in enumerate("cba")})
    limits = (ConditionalLimit("most", {}, heavy, 16), ConditionalLimit("least", {}, light, 13))
    with giving_up_after(0, 0):
        engine = Engine(Problem(domains, (), limits))
        extra = [
            Row(IMPLIED, (), sum_of(Quantity(0, {(domain.id, "a"): 1}), places), 0)
            for domain in domains
        ]
        found = engine._prover.some_build(places.every, extra=extra)
    assert 0 not in found
    assert sum(found) <= 16


def test_a_row_made_of_others_stays_far_below_the_greatest_number():
    domains = tuple(Domain(f"g{at}", ("a", "b")) for at in range(30))
    places = option_places(domains)
    total = sum_of(Quantity(0, {("g0", "b"): 1}), places)
    every_b = Row(("implication", "one"), tuple((at, 2) for at in range(30)))
    table = RowTable(places, [every_b])
    for size in range(0, 70, 3):
        made = implied_row(table, Row(IMPLIED, (), total, 1), np.array([2.0**size]))
        assert made is None or made.row.total.most + abs(made.row.bound) <= GREATEST_NUMBER
    assert implied_row(table, Row(IMPLIED, (), total, 1), np.array([np.nan])) is None
