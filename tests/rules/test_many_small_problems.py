"""Every kind of answer on many small problems, against all combinations of options.

Each combination is judged once, by what it breaks; what is asked of the engine follows from that.
"""

from dataclasses import dataclass, replace
from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from configurator.rules.counting import count_builds
from configurator.rules.engine import Engine
from configurator.rules.problem import Problem
from configurator.rules.smallest_changes import smallest_changes
from tests.rules.small_problems import has, keeps, picks_of, problems, quantities, without


def tried_on(problems: int) -> settings:
    return settings(
        max_examples=problems,
        derandomize=True,
        deadline=None,
        database=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )


@dataclass(frozen=True)
class Judged:
    build: dict[str, str]
    breaks: frozenset[tuple[str, str]]
    """("implication" or "limit", id) of what it breaks."""


def judged(problem: Problem) -> list[Judged]:
    """Judge every combination of options against each rule and limit by itself."""
    nothing = replace(problem, implications=(), conditional_limits=(), lazy_limits=())
    members = [
        *(("implication", r.id, replace(nothing, implications=(r,))) for r in problem.implications),
        *(
            ("limit", limit.id, replace(nothing, conditional_limits=(limit,)))
            for limit in problem.conditional_limits
        ),
        *(
            ("limit", limit.id, replace(nothing, lazy_limits=(limit,)))
            for limit in problem.lazy_limits
        ),
    ]
    groups = [domain.id for domain in problem.domains]
    builds = (
        dict(zip(groups, options, strict=True))
        for options in product(*(domain.options for domain in problem.domains))
    )
    return [
        Judged(b, frozenset((kind, name) for kind, name, alone in members if not keeps(alone, b)))
        for b in builds
    ]


def some(all_judged, picks, members=None) -> bool:
    """Tell whether a combination with the picks breaks nothing, or none of some members."""
    return any(
        has(each.build, picks) and not (each.breaks if members is None else each.breaks & members)
        for each in all_judged
    )


def check_reason(found, all_judged, picks):
    assert set(found.picks) <= set(picks.items())
    kept = dict(found.picks)
    members = {("implication", rule) for rule in found.implications}
    members |= {("limit", limit) for limit in found.limits}
    assert not some(all_judged, kept, members)
    assert all(some(all_judged, without(kept, group), members) for group in kept)
    assert all(some(all_judged, kept, members - {member}) for member in members)


def check_way_out(changes, builds, others, wanted, cost):
    """The first change alters the fewest picks and then adds the least to the cost of those."""

    def merit(build):
        altered = [(g, o) for g, o in others.items() if build[g] != o]
        weights = cost.weights
        return len(altered), sum(
            weights.get((g, build[g]), 0) - weights.get((g, o), 0) for g, o in altered
        )

    reaching = [merit(build) for build in builds if has(build, dict([wanted]))]
    if not reaching:
        assert changes == []
        return
    new = dict(changes[0].options)
    after = {**others, **new, **dict([wanted])}
    assert all(others[group] != option for group, option in new.items())
    assert any(has(build, after) for build in builds)
    assert min(reaching) == merit(after)


@given(st.data())
@tried_on(300)
def test_every_answer_follows_from_judging_all_combinations(data):
    check_every_answer(data)


@pytest.mark.thorough
@given(st.data())
@tried_on(5_000)
def test_every_answer_follows_on_thousands(data):
    check_every_answer(data)


def check_every_answer(data):
    problem = data.draw(problems())
    picks, preferred = data.draw(picks_of(problem)), data.draw(picks_of(problem))
    cost = data.draw(quantities(problem.domains))
    domain = data.draw(st.sampled_from(problem.domains))
    wanted = (domain.id, data.draw(st.sampled_from(domain.options)))
    engine, all_judged = Engine(problem), judged(problem)
    builds = [each.build for each in all_judged if not each.breaks]
    left = [build for build in builds if has(build, picks)]

    for each, options in engine.availability(picks).items():
        for option, possible in options.items():
            assert some(all_judged, {**picks, each: option}) == possible
    others = without(picks, domain.id)
    if not some(all_judged, {**others, **dict([wanted])}):
        changes = smallest_changes(engine, picks, wanted, (), cost, enough=1)
        check_way_out(changes, builds, others, wanted, cost)
    count = count_builds(problem, picks)
    assert count.value >= len(left)
    assert not count.is_exact or count.value == len(left)
    if not left:
        assert not engine.is_possible(picks)
        assert engine.extreme(cost, picks) is None
        assert engine.completion(picks, preferred, cost) is None
        check_reason(engine.conflict(picks), all_judged, picks)
        return
    costs = [cost.of(build) for build in left]
    assert min(costs) == engine.extreme(cost, picks)[0]
    assert max(costs) == engine.extreme(cost, picks, greatest=True)[0]
    best = min((sum(b[g] != o for g, o in preferred.items()), cost.of(b)) for b in left)
    found = engine.completion(picks, preferred, cost)
    assert found in left
    assert best == (sum(found[g] != o for g, o in preferred.items()), cost.of(found))
