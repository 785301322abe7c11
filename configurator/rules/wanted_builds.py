"""Engines for builds of a wanted sort, and why there are none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from configurator.rules.engine import Engine
from configurator.rules.narrower import narrower_engine
from configurator.rules.problem import ConditionalLimit, Conflict, Implication, Quantity
from configurator.rules.rulebook import Member, Options, Question, Rulebook, Wanted

Build: TypeAlias = dict[str, str]

_NOTHING = Quantity(0, {})
_DEMAND = "what is wanted"
"""What is demanded beside the rules; no id of a rule or limit has spaces."""


def reason_for_none(book: Rulebook, question: Question) -> tuple[Member, ...]:
    """Find a minimal part of what a question keeps that leaves no build as wanted.

    Parameters
    ----------
    book : Rulebook
        What the question speaks of.
    question : Question
        One without any build.

    Returns
    -------
    tuple of Member
        Rules and limits; for a limit that can be broken in several ways, of every way together.

    Raises
    ------
    ValueError
        If there is such a build.
    """
    needed: dict[Member, None] = {}
    engine = Engine(book.problem(question.keeps))
    for narrowed in _engines_of_wanted(book, engine, question.wanted):
        needed |= dict.fromkeys(_members(narrowed.conflict({})))
    return tuple(member for member in question.keeps if member in needed)


def any_build(book: Rulebook, question: Question) -> Build | None:
    """Find a build that answers a question; None where there is none."""
    engine = Engine(book.problem(question.keeps))
    for narrowed in _engines_of_wanted(book, engine, question.wanted):
        found = narrowed.extreme(_NOTHING, {})
        if found is not None:
            return found[1]
    return None


def _engines_of_wanted(book: Rulebook, engine: Engine, wanted: Wanted) -> Iterator[Engine]:
    """Narrow an engine to what is wanted, once for each way to break what must be broken."""
    demands = _demanded(wanted.within)
    if wanted.breaks is None:
        yield narrower_engine(engine, demands)
        return
    kind, name = wanted.breaks
    if kind == "rule":
        rule = book.rules[name]
        if not rule.then:  # It asks for nothing, so nothing breaks it.
            return
        yield narrower_engine(engine, [*demands, *_demanded(rule.when), *_never_all(rule.then)])
        return
    limit = book.limits[name]
    for form in limit.by_region:
        over = [] if form.at_most is None else [_more_than(form.quantity, form.at_most)]
        yield narrower_engine(engine, [*demands, *_demanded(form.when)], over)
    if limit.opposite is not None:
        yield narrower_engine(engine, demands, lazy_limits=[limit.opposite])


def _demanded(within: Options) -> list[Implication]:
    """Demand that groups take one of some options."""
    return [Implication(_DEMAND, {}, within)] if within else []


def _never_all(then: Options) -> list[Implication]:
    """Demand that not every group takes one of its options; without any option none ever does."""
    if not all(then.values()):
        return []
    return [Implication(_DEMAND, then, {next(iter(then)): frozenset()})]


def _more_than(quantity: Quantity, at_most: int) -> ConditionalLimit:
    negative = {pair: -weight for pair, weight in quantity.weights.items()}
    return ConditionalLimit(_DEMAND, {}, Quantity(-quantity.constant, negative), -at_most - 1)


def _members(conflict: Conflict) -> list[Member]:
    rules: list[Member] = [("rule", name) for name in conflict.implications if name != _DEMAND]
    return [*rules, *(("limit", name) for name in conflict.limits if name != _DEMAND)]
