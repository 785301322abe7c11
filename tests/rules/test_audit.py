"""What rules and limits do beside each other, compared with looking at every build."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.rules.audit import (
    breach_of_limit,
    breach_of_rule,
    build_in_situation,
    engine_leaving_one_out,
    says_nothing,
)
from configurator.rules.emptying import emptying_rules
from configurator.rules.problem import ConditionalLimit, Domain, Implication, LazyLimit, Quantity
from configurator.rules.replay import build_for, is_answer
from configurator.rules.rulebook import LimitParts, Member, Question, Rulebook, Wanted
from configurator.rules.wanted_builds import any_build, reason_for_none
from tests.rules.small_problems import RootLimit, SpreadLimit, problems, steady


@dataclass(frozen=True)
class Opposite:
    """Kept by just the builds that break a limit; it tells no more than the build asked about."""

    limit: LazyLimit

    @property
    def id(self) -> str:
        return self.limit.id

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        if self.limit.broken_by(choices) is not None:
            return None
        when = {group: frozenset({option}) for group, option in choices.items()}
        return ConditionalLimit(self.id, when, Quantity(0, {}), None)


@st.composite
def rulebooks(draw: st.DrawFn) -> Rulebook:
    """Draw rules, and limits of which some only warn."""
    problem = draw(problems())
    names = dict.fromkeys(
        [*(c.id for c in problem.conditional_limits), *(x.id for x in problem.lazy_limits)]
    )
    limits = {}
    for name in names:
        lazy = next((x for x in problem.lazy_limits if x.id == name), None)
        limits[name] = LimitParts(
            tuple(c for c in problem.conditional_limits if c.id == name),
            lazy,
            None if lazy is None else Opposite(lazy),
            binds=draw(st.integers(0, 3)) > 0,
        )
    return Rulebook(problem.domains, {rule.id: rule for rule in problem.implications}, limits)


def every_build(book: Rulebook) -> Iterator[dict[str, str]]:
    for options in product(*(domain.options for domain in book.domains)):
        yield {domain.id: option for domain, option in zip(book.domains, options, strict=True)}


def keeping(
    book: Rulebook, members: tuple[Member, ...], without: Member | None = None
) -> list[dict[str, str]]:
    kept = [member for member in members if member != without]
    return [build for build in every_build(book) if all(book.keeps(m, build) for m in kept)]


def all_in(build: Mapping[str, str], options_of: Mapping[str, frozenset[str]]) -> bool:
    return all(build[group] in options for group, options in options_of.items())


@steady
@given(rulebooks())
def test_a_situation_arises_just_when_some_build_of_the_others_meets_it(book: Rulebook) -> None:
    engine = engine_leaving_one_out(book)
    for rule in book.rules.values():
        builds = keeping(book, book.binding(), without=("rule", rule.id))
        meeting = [build for build in builds if all_in(build, rule.when)]
        found = build_in_situation(engine, rule)
        assert bool(meeting) == (found is not None)
        assert found is None or found in meeting


@steady
@given(rulebooks())
def test_a_rule_is_implied_just_when_no_build_of_the_others_breaks_it(book: Rulebook) -> None:
    engine = engine_leaving_one_out(book)
    for rule in book.rules.values():
        member: Member = ("rule", rule.id)
        builds = keeping(book, book.binding(), without=member)
        breaking = [build for build in builds if not book.keeps(member, build)]
        found = breach_of_rule(engine, rule)
        assert bool(breaking) == (found is not None)
        assert found is None or found in breaking


@steady
@given(rulebooks())
def test_a_limit_is_out_of_reach_just_when_no_build_of_the_others_exceeds_it(
    book: Rulebook,
) -> None:
    engine = engine_leaving_one_out(book)
    for name, limit in book.limits.items():
        member: Member = ("limit", name)
        builds = keeping(book, book.binding(), without=member)
        breaking = [build for build in builds if not book.keeps(member, build)]
        found = breach_of_limit(engine, name, limit)
        assert bool(breaking) == (found is not None)
        assert found is None or found in breaking


@steady
@given(rulebooks())
def test_a_rule_says_nothing_just_when_every_build_keeps_it(book: Rulebook) -> None:
    for rule in book.rules.values():
        kept = all(book.keeps(("rule", rule.id), build) for build in every_build(book))
        assert kept == says_nothing(book, rule)


@st.composite
def questions(draw: st.DrawFn, book: Rulebook) -> Question:
    members = [*(("rule", r) for r in book.rules), *(("limit", name) for name in book.limits)]
    kept = [member for member in members if draw(st.integers(0, 4))]
    within = {
        domain.id: draw(st.frozensets(st.sampled_from(domain.options), min_size=1))
        for domain in book.domains
        if not draw(st.integers(0, 3))
    }
    left_out = [member for member in members if member not in kept]
    breaks = draw(st.sampled_from(left_out)) if left_out and draw(st.booleans()) else None
    return Question(tuple(kept), Wanted(within, breaks))


def answers(book: Rulebook, question: Question) -> list[dict[str, str]]:
    wanted = question.wanted
    return [
        build
        for build in keeping(book, question.keeps)
        if all_in(build, wanted.within)
        and (wanted.breaks is None or not book.keeps(wanted.breaks, build))
    ]


@steady
@given(st.data(), rulebooks())
def test_the_plain_method_answers_as_looking_at_every_build_does(
    data: st.DataObject, book: Rulebook
) -> None:
    question = data.draw(questions(book))
    known = answers(book, question)
    found = build_for(book, question)
    assert bool(known) == (found is not None)
    assert found is None or found in known
    assert known == [build for build in every_build(book) if is_answer(book, question, build)]


@steady
@given(st.data(), rulebooks())
def test_a_reason_for_no_build_is_enough_and_none_of_it_can_be_spared(
    data: st.DataObject, book: Rulebook
) -> None:
    question = data.draw(questions(book))
    if answers(book, question):
        with pytest.raises(ValueError, match="nothing to explain"):
            reason_for_none(book, question)
        return
    reason = reason_for_none(book, question)
    assert set(reason) <= set(question.keeps)
    assert [] == answers(book, replace(question, keeps=reason))
    is_one_way = question.wanted.breaks is None or question.wanted.breaks[0] == "rule"
    for spared in reason if is_one_way else ():
        fewer = tuple(member for member in reason if member != spared)
        assert answers(book, replace(question, keeps=fewer))


@steady
@given(rulebooks(), st.integers(0, 4))
def test_no_smaller_set_of_rules_and_limits_leaves_no_build(book: Rulebook, at_most: int) -> None:
    found = emptying_rules(book, at_most)
    if keeping(book, book.binding()):
        assert found is None
        return
    assert found is not None
    assert [] == keeping(book, found.members)
    size = next(
        size
        for size in range(len(book.binding()) + 1)
        if any(not keeping(book, members) for members in combinations(book.binding(), size))
    )
    assert (size <= at_most) == found.is_smallest
    assert not found.is_smallest or size == len(found.members)


def test_the_smallest_of_several_contradictions_is_given() -> None:
    groups = (Domain("a", ("x", "y")), Domain("b", ("x", "y")), Domain("c", ("x", "y")))
    always = {"first": {"a": "x"}, "second": {"b": "x"}, "third": {"c": "x"}}
    rules = {
        name: Implication(name, {}, {group: frozenset({option}) for group, option in then.items()})
        for name, then in always.items()
    }
    all_three = {group.id: frozenset({"x"}) for group in groups}
    rules["not-all"] = Implication("not-all", all_three, {"a": frozenset()})
    rules["only-y"] = Implication("only-y", {"b": frozenset({"x", "y"})}, {"c": frozenset({"y"})})
    book = Rulebook(groups, rules, {})
    found = emptying_rules(book)
    assert found is not None
    assert (("rule", "third"), ("rule", "only-y")) == found.members
    assert found.is_smallest
    larger = emptying_rules(book, at_most=1)
    assert larger is not None
    assert not larger.is_smallest


def test_limits_that_are_no_sums_are_asked_beyond_their_bound() -> None:
    groups = (Domain("a", ("x", "y")), Domain("b", ("x", "y")))
    weights = {("a", "x"): 0, ("a", "y"): 9, ("b", "x"): 0, ("b", "y"): 9}
    spread = SpreadLimit("spread", ("a", "b"), weights, 4)
    root = RootLimit("root", Quantity(0, weights), 4)
    book = Rulebook(
        groups,
        {},
        {
            "spread": LimitParts((), spread, Opposite(spread)),
            "root": LimitParts((), root, Opposite(root), binds=False),
        },
    )
    engine = engine_leaving_one_out(book)
    assert breach_of_limit(engine, "spread", book.limits["spread"]) in (
        {"a": "x", "b": "y"},
        {"a": "y", "b": "x"},
    )
    assert breach_of_limit(engine, "root", book.limits["root"]) is None


def test_no_build_breaks_a_rule_that_asks_for_nothing() -> None:
    book = Rulebook((Domain("roof", ("steel",)),), {"idle": Implication("idle", {}, {})}, {})
    assert any_build(book, Question((), Wanted(breaks=("rule", "idle")))) is None
