"""The fewest rules and limits that together leave no build."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from configurator.rules.rulebook import ANYTHING, SIDE_BY_SIDE, Member, Question, Rulebook, Wanted
from configurator.rules.wanted_builds import Build, any_build, reason_for_none

GREATEST_EFFORT = 150
"""Sets tried before a set that is minimal, yet perhaps not the smallest, will do."""


@dataclass(frozen=True)
class EmptyingRules:
    """Rules and limits without any build; without any one of them there is one."""

    members: tuple[Member, ...]
    is_smallest: bool
    """Whether it is proved that no smaller set does it."""


def emptying_rules(
    book: Rulebook, at_most: int = SIDE_BY_SIDE, wanted: Wanted = ANYTHING
) -> EmptyingRules | None:
    """Find a smallest set of rules and limits that leaves no build.

    Parameters
    ----------
    book : Rulebook
        The rules and limits.
    at_most : int
        How large a set is looked for; where none is so small, a minimal one is given.
    wanted : Wanted
        What the builds must be like, beside keeping the set.

    Returns
    -------
    EmptyingRules or None
        None where all rules and limits together leave a build.

    Source
    ------
    Ignatiev, Previti, Liffiton, Marques-Silva 2015, Smallest MUS extraction with minimal hitting
    set dualization: a set is smallest if it meets, with fewest members, every set of members known
    to have a build without them, and has no build itself.

    Examples
    --------
    >>> from configurator.rules.problem import Domain, Implication
    >>> never = Implication("never", {}, {"roof": frozenset()})
    >>> book = Rulebook((Domain("roof", ("steel",)),), {"never": never}, {})
    >>> emptying_rules(book)
    EmptyingRules(members=(('rule', 'never'),), is_smallest=True)
    """
    everything = book.binding()
    if any_build(book, Question(everything, wanted)) is not None:
        return None
    to_be_met: list[frozenset[Member]] = []
    for _ in range(GREATEST_EFFORT):
        tried = _fewest_meeting(to_be_met, at_most)
        if tried is None:
            break
        members = tuple(member for member in everything if member in tried)
        build = any_build(book, Question(members, wanted))
        if build is None:
            return EmptyingRules(members, is_smallest=True)
        to_be_met.append(_needed_beside(book, members, build, wanted))
    return EmptyingRules(reason_for_none(book, Question(everything, wanted)), is_smallest=False)


def _needed_beside(
    book: Rulebook, kept: Collection[Member], build: Build, wanted: Wanted
) -> frozenset[Member]:
    """Keep more and more beside some members; give what cannot be kept any more."""
    grown = dict.fromkeys(kept)
    grown |= dict.fromkeys(_kept_by(book, build))
    missing = [member for member in book.binding() if member not in grown]
    refused: list[Member] = []
    while missing:
        member, *missing = missing
        better = any_build(book, Question((*grown, member), wanted))
        if better is None:
            refused.append(member)
            continue
        grown |= dict.fromkeys(_kept_by(book, better))
        missing = [other for other in missing if other not in grown]
    return frozenset(refused)


def _kept_by(book: Rulebook, build: Build) -> list[Member]:
    return [member for member in book.binding() if book.keeps(member, build)]


def _fewest_meeting(sets: Iterable[frozenset[Member]], at_most: int) -> frozenset[Member] | None:
    """Find fewest members of which every set has one; None where more than allowed are needed."""
    model = cp_model.CpModel()
    taken: dict[Member, cp_model.IntVar] = {}
    for each in sets:
        for member in sorted(each - taken.keys()):
            taken[member] = model.new_bool_var(" ".join(member))
        model.add_bool_or(taken[member] for member in sorted(each))
    model.add(sum(taken.values()) <= at_most)
    model.minimize(sum(taken.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    if status != cp_model.OPTIMAL:
        message = f"solver: it ended with {solver.status_name(status)}; it must prove its answer."
        raise RuntimeError(message)
    return frozenset(member for member, variable in taken.items() if solver.boolean_value(variable))
