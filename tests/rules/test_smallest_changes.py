"""The smallest changes are those that looking at all builds finds."""

from collections.abc import Collection, Mapping

from hypothesis import given
from hypothesis import strategies as st

from configurator.rules.engine import Engine
from configurator.rules.problem import Domain, Implication, Problem, Quantity
from configurator.rules.smallest_changes import smallest_changes
from tests.rules.small_problems import (
    all_builds,
    has,
    problems_and_picks,
    quantities,
    steady,
    without,
)

Pair = tuple[str, str]
Altered = frozenset[Pair]


@st.composite
def wanted_against_picks(
    draw: st.DrawFn,
) -> tuple[Problem, dict[str, str], Pair, frozenset[str], Quantity]:
    """Draw picks, some of them kept, and an option that no build with the picks has."""
    problem, picks = draw(problems_and_picks().filter(lambda drawn: len(drawn[1]) > 1))
    domain = draw(st.sampled_from(problem.domains))
    wanted = (domain.id, draw(st.sampled_from(domain.options)))
    kept = draw(st.frozensets(st.sampled_from(sorted(picks)), max_size=1))
    return problem, picks, wanted, kept - {wanted[0]}, draw(quantities(problem.domains))


def irreducible(
    problem: Problem, picks: Mapping[str, str], wanted: Pair, kept: Collection[str]
) -> list[Altered]:
    """Find what builds with the wanted option alter, where no build alters only a part of it."""
    others = without(picks, wanted[0])
    fixed = {group: others[group] for group in kept} | dict([wanted])
    altered = {
        frozenset((g, build[g]) for g in others if build[g] != others[g])
        for build in all_builds(problem)
        if has(build, fixed)
    }
    return [each for each in altered if not any(part < each for part in altered)]


def added(change: Altered, picks: Mapping[str, str], cost: Quantity) -> int:
    return sum(cost.weights.get(p, 0) - cost.weights.get((p[0], picks[p[0]]), 0) for p in change)


@steady
@given(drawn=wanted_against_picks(), enough=st.integers(1, 4))
def test_the_smallest_changes_are_those_that_looking_at_all_builds_finds(
    drawn: tuple[Problem, dict[str, str], Pair, frozenset[str], Quantity], enough: int
) -> None:
    problem, picks, wanted, kept, cost = drawn
    expected = irreducible(problem, picks, wanted, kept)
    if frozenset() in expected:
        expected = []
    sizes = sorted((len(change), added(change, picks, cost)) for change in expected)
    if len(sizes) > enough:
        worst = sizes[enough - 1]
        expected = [c for c in expected if (len(c), added(c, picks, cost)) <= worst]
    found = smallest_changes(Engine(problem), picks, wanted, kept, cost, enough=enough)
    assert set(expected) == {frozenset(change.options) for change in found}
    assert len(expected) == len(found)
    told = [(len(c.options), added(frozenset(c.options), picks, cost)) for c in found]
    assert sizes[: len(told)] == told


def test_a_change_that_contains_a_smaller_one_is_not_told() -> None:
    # The option needs a and b new, or c and d new; a new beside c and d is no way of its own.
    groups = tuple(Domain(name, ("old", "new")) for name in "abcd")
    new = frozenset({"new"})
    rules = tuple(
        Implication(
            f"{first}-or-{second}",
            {"wanted": frozenset({"yes"}), first: frozenset({"old"})},
            {second: new},
        )
        for first in "ab"
        for second in "cd"
    )
    problem = Problem((*groups, Domain("wanted", ("no", "yes"))), rules, ())
    picks = dict.fromkeys("abcd", "old") | {"wanted": "no"}
    dearer = Quantity(0, {("c", "new"): 1})
    found = smallest_changes(Engine(problem), picks, ("wanted", "yes"), (), dearer, enough=9)
    assert [(("a", "new"), ("b", "new")), (("c", "new"), ("d", "new"))] == [
        change.options for change in found
    ]


def test_what_is_kept_is_never_altered_and_then_there_may_be_no_change() -> None:
    problem = Problem(
        (Domain("roof", ("steel", "canvas")), Domain("floor", ("cork", "carpet"))),
        (Implication("dry", {"floor": frozenset({"carpet"})}, {"roof": frozenset({"steel"})}),),
        (),
    )
    engine, picks, free = Engine(problem), {"roof": "canvas"}, Quantity(0, {})
    wanted = ("floor", "carpet")
    found = smallest_changes(engine, picks, wanted, (), free, enough=3)
    assert [(("roof", "steel"),)] == [change.options for change in found]
    assert [] == smallest_changes(engine, picks, wanted, ("roof",), free, enough=3)
