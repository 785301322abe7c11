"""Why picks are impossible: a minimal set of picks and rules, few picks first."""

from __future__ import annotations

from collections.abc import Callable

from configurator.rules.extremes import NODES_BEFORE_SOLVER, any_build
from configurator.rules.options import Member, OptionBits, bits_of
from configurator.rules.problem import Conflict
from configurator.rules.propagation import Rules, narrowed
from configurator.rules.search import light_ranks, search
from configurator.rules.solving import refuted_by


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
    for bit in bits_of(picked):
        rest = picked ^ bit
        if known_build(rest):
            continue
        if not any_build(rules, narrowed(rules, names.within(names.everything, rest))):
            picked = rest
    return picked


def _fewest_rules(rules: Rules, names: OptionBits, picked: int) -> list[Member]:
    """Drop the rules one after the other, those that the last refutation did not use unasked.

    The order is fixed, so the outcome does not depend on which refutations are found.
    """
    start = names.within(names.everything, picked)
    kept = rules.members
    used = _used_in_refuting(rules, start) or set(kept)
    for member in list(kept):
        if member in used:
            fewer = _used_in_refuting(rules.of_members(set(kept) - {member}), start)
            if fewer is None:
                continue
            used = fewer
        kept.remove(member)
    return kept


def _used_in_refuting(rules: Rules, start: int) -> set[Member] | None:
    """Give rules that leave no build, or None when there is a build."""
    used: set[Member] = set()
    domain = narrowed(rules, start, touched=used)
    if not domain:
        return used
    found = search(rules, domain, light_ranks(rules, domain), NODES_BEFORE_SOLVER, used)
    if found.settled:
        return None if found.build else used
    return refuted_by(rules, start)
