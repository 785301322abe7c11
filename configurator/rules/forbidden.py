"""What is still open, and the combinations of options that are forbidden in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

from configurator.rules.problem import Problem

Meant: TypeAlias = dict[str, frozenset[str]]
"""Options by group. A build that takes one of them in every group named has the combination."""

Open: TypeAlias = dict[str, tuple[str, ...]]
"""The options still open, by group, in the order of the problem."""


def opened(
    problem: Problem, picks: Mapping[str, str], allowed: Mapping[str, frozenset[str]]
) -> Open:
    """Tell which options picks and restrictions leave.

    Raises
    ------
    ValueError
        If they name a group or an option that the problem does not have.

    Examples
    --------
    >>> from configurator.rules.problem import Domain
    >>> problem = Problem((Domain("roof", ("steel", "canvas")), Domain("floor", ("cork",))), (), ())
    >>> opened(problem, {"roof": "canvas"}, {})
    {'roof': ('canvas',), 'floor': ('cork',)}
    """
    offered = {domain.id: domain.options for domain in problem.domains}
    for group, option in picks.items():
        if option not in offered.get(group, ()):
            message = f'pick "{group}: {option}" does not exist here; pick what is offered.'
            raise ValueError(message)
    if unknown := allowed.keys() - offered.keys():
        message = f"groups {sorted(unknown)} do not exist here; restrict groups that are offered."
        raise ValueError(message)
    wanted = {group: frozenset({option}) for group, option in picks.items()}
    return {
        group: tuple(
            option
            for option in options
            if option in wanted.get(group, options) and option in allowed.get(group, options)
        )
        for group, options in offered.items()
    }


def forbidden_in(problem: Problem) -> list[Meant]:
    """List the combinations that implications and limits without a bound forbid.

    Examples
    --------
    >>> from configurator.rules.problem import Domain, Implication
    >>> roof, floor = Domain("roof", ("steel", "canvas")), Domain("floor", ("cork", "carpet"))
    >>> dry = Implication("dry", {"floor": frozenset({"carpet"})}, {"roof": frozenset({"steel"})})
    >>> forbidden_in(Problem((roof, floor), (dry,), ()))
    [{'floor': frozenset({'carpet'}), 'roof': frozenset({'canvas'})}]
    """
    offered = {domain.id: frozenset(domain.options) for domain in problem.domains}
    found: list[Meant] = []
    for implication in problem.implications:
        for group, options in implication.then.items():
            others = offered[group] - options
            found.append({**implication.when, group: others & implication.when.get(group, others)})
    found.extend(dict(limit.when) for limit in problem.conditional_limits if limit.at_most is None)
    return found


def tidied(left: Open, forbidden: Sequence[Meant]) -> tuple[Open, list[Meant]] | None:
    """Take away options that one combination alone forbids, and combinations that say nothing.

    Returns
    -------
    tuple of Open and list of Meant, or None
        What is open and what is forbidden in it, each combination over two groups or more and
        over open options only; None when a combination leaves nothing.

    Examples
    --------
    >>> left = {"roof": ("canvas",), "floor": ("cork", "carpet")}
    >>> tidied(left, [{"floor": frozenset({"carpet"}), "roof": frozenset({"canvas"})}])
    ({'roof': ('canvas',), 'floor': ('cork',)}, [])
    """
    left = dict(left)
    waiting = list(forbidden)
    while True:
        narrowed = [read_within(left, meant) for meant in waiting]
        waiting = [meant for meant in narrowed if meant is not None]
        if {} in waiting or not all(left.values()):
            return None
        alone = [meant for meant in waiting if len(meant) == 1]
        if not alone:
            return left, _distinct(waiting)
        for meant in alone:
            for group, options in meant.items():
                left[group] = tuple(option for option in left[group] if option not in options)


def read_within(left: Open, meant: Mapping[str, frozenset[str]]) -> Meant | None:
    """Read a combination over open options; None when no build can have it any more."""
    inside = {group: options & frozenset(left[group]) for group, options in meant.items()}
    if not all(inside.values()):
        return None
    return {group: some for group, some in inside.items() if len(some) < len(left[group])}


def _distinct(forbidden: Sequence[Meant]) -> list[Meant]:
    return list({frozenset(meant.items()): meant for meant in forbidden}.values())
