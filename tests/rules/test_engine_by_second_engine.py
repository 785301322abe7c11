"""The engine against an engine of another kind, on problems of a workshop's size.

A talk picks options by chance until every group is settled; now and then it asks for one that is
out.
"""

from dataclasses import replace

import pytest

from configurator.rules.engine import Engine
from configurator.rules.problem import Problem, Quantity
from configurator.rules.smallest_changes import smallest_changes
from tests.rules.second_engine import SecondEngine
from tests.rules.workshop_problems import TIGHTNESS, chance, some_quantity, workshop_problem

SEEDS = (1, 2)
CASES = [
    pytest.param(
        tightness,
        seed,
        id=f"{tightness}-{seed}",
        marks=[] if seed == SEEDS[0] else pytest.mark.thorough,
    )
    for tightness in TIGHTNESS
    for seed in SEEDS
]


def talk(engine, seed, picks_each_time=1):
    """Yield the picks of a talk, from none to all, never stepping into a dead end."""
    random = chance(seed)
    picks = {}
    yield dict(picks)
    ahead = [domain.id for domain in engine.problem.domains]
    random.shuffle(ahead)
    while ahead:
        for group in ahead[:picks_each_time]:
            offered = [o for o, possible in engine.availability(picks)[group].items() if possible]
            picks[group] = random.choice(offered)
        ahead = ahead[picks_each_time:]
        yield dict(picks)


def refusals(engine, seed):
    """Yield picks of a talk with an option that is out beside them."""
    random = chance(seed)
    for picks in talk(engine, seed, picks_each_time=3):
        out = [
            (group, option)
            for group, options in engine.availability(picks).items()
            for option, possible in options.items()
            if not possible
        ]
        if out:
            wanted = random.choice(out)
            yield {g: o for g, o in picks.items() if g != wanted[0]}, wanted


@pytest.mark.parametrize(("tightness", "seed"), CASES)
def test_at_each_pick_of_a_talk_both_engines_offer_the_same(tightness, seed):
    problem = workshop_problem(seed, tightness)
    engine, second = Engine(problem), SecondEngine(problem)
    for picks in talk(engine, seed, picks_each_time=1 if seed == SEEDS[0] else 3):
        assert second.availability(picks) == engine.availability(picks)


def only(problem: Problem, implications, limits) -> Problem:
    return replace(
        problem,
        implications=tuple(rule for rule in problem.implications if rule.id in implications),
        conditional_limits=tuple(lim for lim in problem.conditional_limits if lim.id in limits),
    )


@pytest.mark.parametrize(("tightness", "seed"), CASES)
def test_each_member_of_a_reason_is_needed_and_all_together_suffice(tightness, seed):
    problem = workshop_problem(seed, tightness)
    engine = Engine(problem)
    asked = 0
    for others, wanted in refusals(engine, seed):
        asked += 1
        found = engine.conflict({**others, wanted[0]: wanted[1]})
        picks, rules, limits = dict(found.picks), found.implications, found.limits
        alone = SecondEngine(only(problem, rules, limits))
        assert picks.items() <= {**others, wanted[0]: wanted[1]}.items()
        assert not alone.is_possible(picks)
        for group in picks:
            assert alone.is_possible({g: o for g, o in picks.items() if g != group})
        for rule in rules:
            less = only(problem, [each for each in rules if each != rule], limits)
            assert SecondEngine(less).is_possible(picks)
        for limit in limits:
            less = only(problem, rules, [each for each in limits if each != limit])
            assert SecondEngine(less).is_possible(picks)
    assert asked


def changes_from(picks) -> Quantity:
    return Quantity(len(picks), dict.fromkeys(picks.items(), -1))


def added_by_changes(price, problem, others) -> Quantity:
    """What taking other options than these adds to the price, in the groups they are of."""
    return Quantity(
        0,
        {
            (domain.id, option): price.weights.get((domain.id, option), 0)
            - price.weights.get((domain.id, others[domain.id]), 0)
            for domain in problem.domains
            if domain.id in others
            for option in domain.options
        },
    )


@pytest.mark.parametrize(("tightness", "seed"), CASES)
def test_a_way_out_changes_as_few_picks_and_costs_as_little_as_any(tightness, seed):
    problem = workshop_problem(seed, tightness)
    engine, second = Engine(problem), SecondEngine(problem)
    price = some_quantity(chance(seed), problem.domains)
    asked = 0
    for others, wanted in refusals(engine, seed):
        added = added_by_changes(price, problem, others)
        best = second.best_in_turn(changes_from(others), added, dict([wanted]))
        changes = smallest_changes(engine, others, wanted, (), price, enough=1)
        if best is None:
            assert changes == []
            continue
        asked += 1
        change = dict(changes[0].options)
        assert sum(best[group] != option for group, option in others.items()) == len(change)
        assert all(others[group] != option for group, option in change.items())
        after = {**others, **change, wanted[0]: wanted[1]}
        assert second.best(added, after) is not None
        assert added.of(best) == added.of(after)
    assert asked


@pytest.mark.parametrize(("tightness", "seed"), CASES)
def test_least_and_greatest_and_completion_are_those_of_the_second_engine(tightness, seed):
    problem = workshop_problem(seed, tightness)
    engine, second = Engine(problem), SecondEngine(problem)
    price = some_quantity(chance(seed), problem.domains)
    opposite = Quantity(0, {pair: -weight for pair, weight in price.weights.items()})
    preferred = {d.id: chance(seed).choice(d.options) for d in problem.domains}
    for picks in talk(engine, seed, picks_each_time=4):
        least = price.of(second.best(price, picks))
        greatest = price.of(second.best(opposite, picks))
        assert least == engine.extreme(price, picks)[0] == engine.minimise(price, picks)[0]
        assert greatest == engine.extreme(price, picks, greatest=True)[0]
        expected = second.best_in_turn(changes_from(preferred), price, picks)
        found = engine.completion(picks, preferred, price)
        assert picks.items() <= found.items()
        assert second.is_possible(found)
        for merit in (changes_from(preferred), price):
            assert merit.of(expected) == merit.of(found)
