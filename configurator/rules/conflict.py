"""Why picks are impossible: a minimal set of picks and rules, few picks first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from configurator.rules.extremes import any_build
from configurator.rules.options import Member, OptionBits, bits_of
from configurator.rules.problem import Conflict
from configurator.rules.propagation import Rules, narrowed
from configurator.rules.search import light_ranks, search

_Part = TypeVar("_Part")


def minimal_conflict(
    rules: Rules, names: OptionBits, picked: int, known_build: Callable[[int], int]
) -> Conflict:
    """Find picks and rules that cannot hold together and none of which can be dropped.

    Parameters
    ----------
    rules : Rules
        All rules.
    names : OptionBits
        The names of the options.
    picked : int
        Picks that no build has all of.
    known_build : callable
        Gives a build already known to have some picked options, or 0; it saves questions.

    Returns
    -------
    Conflict
        Minimal: without any one of its members the rest is possible.
    """
    kept_picks = _fewest_picks(rules, names, picked, known_build)
    members = _fewest_rules(rules, names, kept_picks)
    return Conflict(
        picks=tuple(names.choices(kept_picks).items()),
        implications=tuple(name for kind, name in members if kind == "implication"),
        limits=tuple(name for kind, name in members if kind == "limit"),
    )


def _fewest_picks(
    rules: Rules, names: OptionBits, picked: int, known_build: Callable[[int], int]
) -> int:
    def impossible_at_once(bits: Sequence[int]) -> bool:
        return not narrowed(rules, names.within(names.everything, sum(bits)))

    def impossible(bits: Sequence[int]) -> bool:
        if known_build(sum(bits)):
            return False
        return not any_build(rules, narrowed(rules, names.within(names.everything, sum(bits))))

    bits = list(bits_of(picked))
    if impossible_at_once(bits):
        bits = _without_needless(bits, impossible_at_once)
    return sum(_without_needless(bits, impossible))


def _fewest_rules(rules: Rules, names: OptionBits, picked: int) -> list[Member]:
    start = names.within(names.everything, picked)

    def impossible_at_once(members: Sequence[Member]) -> bool:
        return not narrowed(rules.of_members(set(members)), start)

    def impossible(members: Sequence[Member]) -> bool:
        some = rules.of_members(set(members))
        return not any_build(some, narrowed(some, start))

    members = _members_used(rules, start)
    if impossible_at_once(members):
        members = _without_needless(members, impossible_at_once)
    return _without_needless(members, impossible)


def _members_used(rules: Rules, start: int) -> list[Member]:
    """Give the rules that a refutation used; all of them when the solver has to refute."""
    used: set[Member] = set()
    domain = narrowed(rules, start, touched=used)
    if domain and not search(rules, domain, light_ranks(rules, domain), touched=used).settled:
        return rules.members
    return [member for member in rules.members if member in used]


def _without_needless(
    parts: Sequence[_Part], impossible: Callable[[Sequence[_Part]], bool]
) -> list[_Part]:
    """Drop each part whose absence leaves the rest impossible, halves before single parts."""
    kept = list(parts)
    step = max(len(kept) // 2, 1)
    while True:
        at = len(kept)
        while at > 0:
            start = max(at - step, 0)
            rest = kept[:start] + kept[at:]
            if impossible(rest):
                kept = rest
            at = start
        if step == 1:
            return kept
        step //= 2
