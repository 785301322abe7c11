"""The fewest rules and limits that together leave no build."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

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
    ordered = sorted(sets, key=len)
    for size in range(at_most + 1):
        found = _meeting(ordered, frozenset(), size)
        if found is not None:
            return found
    return None


def _meeting(
    sets: list[frozenset[Member]], taken: frozenset[Member], more: int
) -> frozenset[Member] | None:
    unmet = next((each for each in sets if not each & taken), None)
    if unmet is None:
        return taken
    if not more:
        return None
    for member in sorted(unmet):
        found = _meeting(sets, taken | {member}, more - 1)
        if found is not None:
            return found
    return None
