"""Why picks are impossible: a minimal set of picks and rules, few picks first."""

from __future__ import annotations

from configurator.rules.options import Picks
from configurator.rules.problem import Conflict
from configurator.rules.prover import Prover
from configurator.rules.row_table import Options
from configurator.rules.rows import Member


def minimal_conflict(prover: Prover, picks: Picks) -> Conflict:
    """Find picks and rules that cannot hold together and none of which can be dropped.

    Parameters
    ----------
    prover : Prover
        All rules.
    picks : tuple of tuples of int
        Picks that no build has all of.

    Returns
    -------
    Conflict
        Minimal: without any one of its members the rest is possible.
    """
    kept = _fewest_picks(prover, picks)
    members = _fewest_rules(prover, taking(prover, kept))
    return Conflict(
        picks=prover.places.named(kept),
        implications=tuple(name for kind, name in members if kind == "implication"),
        limits=tuple(name for kind, name in members if kind == "limit"),
    )


def taking(prover: Prover, picks: Picks) -> Options:
    """Allow every option in the groups without a pick."""
    options = list(prover.places.every)
    for group, place in picks:
        options[group] = 1 << place
    return tuple(options)


def _fewest_picks(prover: Prover, picks: Picks) -> Picks:
    for pick in picks:
        rest = tuple(other for other in picks if other != pick)
        if prover.some_build(taking(prover, rest)) is None:
            picks = rest
    return picks


def _fewest_rules(prover: Prover, options: Options) -> list[Member]:
    """Drop the rules one after the other, those that the last refutation did not use unasked.

    The order is fixed, so the outcome does not depend on which refutations are found.
    """
    kept = prover.members
    used: set[Member] = set()
    prover.some_build(options, kept, used)
    for member in list(kept):
        if member in used:
            now_used: set[Member] = set()
            rest = [other for other in kept if other != member]
            if prover.some_build(options, set(rest), now_used) is not None:
                continue
            used = now_used
        kept.remove(member)
    return kept
