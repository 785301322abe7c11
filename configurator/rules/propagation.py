"""What follows at once: options that no build within a domain can have are removed."""

from __future__ import annotations

from collections.abc import Collection

from configurator.rules.clauses import Clause
from configurator.rules.limits import Limit
from configurator.rules.options import ALWAYS, Member


class Rules:
    """Clauses and limits, indexed by the options whose loss may matter to them."""

    __slots__ = ("clauses", "group_masks", "limits", "watchers")

    def __init__(
        self,
        group_masks: tuple[int, ...],
        clauses: Collection[Clause],
        limits: Collection[Limit],
    ) -> None:
        self.group_masks = group_masks
        self.clauses = tuple(clauses)
        self.limits = tuple(limits)
        self.watchers: list[tuple[int, int, Clause | Limit]] = []
        rules: tuple[Clause | Limit, ...] = (*self.clauses, *self.limits)
        for at, rule in enumerate(rules):
            self.watchers.append((1 << at, _watched(rule), rule))

    @property
    def everyone(self) -> int:
        """The mask of all rules, for a first examination."""
        return (1 << len(self.watchers)) - 1

    @property
    def members(self) -> list[Member]:
        """The ids of all rules, each once, in the order of the problem."""
        return list(dict.fromkeys(rule.member for _, _, rule in self.watchers))

    def with_limit(self, limit: Limit) -> Rules:
        """Give the same rules and one limit more."""
        return Rules(self.group_masks, self.clauses, (*self.limits, limit))

    def of_members(self, members: Collection[Member]) -> Rules:
        """Give only the rules with these ids."""
        return Rules(
            self.group_masks,
            [clause for clause in self.clauses if clause.member in members],
            [limit for limit in self.limits if limit.member in members],
        )

    def allow(self, build: int) -> bool:
        """Tell whether a complete build keeps every rule."""
        return all(clause.allows(build) for clause in self.clauses) and all(
            limit.allows(build) for limit in self.limits
        )


def narrowed(
    rules: Rules, domain: int, lost: int | None = None, touched: set[Member] | None = None
) -> int:
    """Remove options until no single rule removes any more.

    Parameters
    ----------
    rules : Rules
        What must hold.
    domain : int
        The options still possible, at least one in each group; or 0.
    lost : int, optional
        The options lost since the domain was last narrowed; every rule is examined when absent.
    touched : set of Member, optional
        Receives the ids of the rules that removed anything.

    Returns
    -------
    int
        The smaller domain, or 0 when a contradiction was found. A domain with a single option in
        each group that comes back is a build that keeps every rule.
    """
    if not domain:
        return 0
    watchers = rules.watchers
    pending = rules.everyone if lost is None else 0
    if lost:
        pending = _concerned(watchers, lost)
    while pending:
        turn = pending & -pending
        pending ^= turn
        rule = watchers[turn.bit_length() - 1][2]
        smaller = rule.narrowed(domain)
        if smaller == domain:
            continue
        if touched is not None:
            touched.add(rule.member)
        if not smaller or not _each_group_has_one(rules.group_masks, smaller):
            return 0
        # A rule may find more to remove after its own removal, so it is asked again too.
        pending |= _concerned(watchers, domain ^ smaller)
        domain = smaller
    return domain


def is_complete(rules: Rules, domain: int) -> bool:
    """Tell whether each group has a single option left."""
    return (domain & ~ALWAYS).bit_count() == len(rules.group_masks)


def _watched(rule: Clause | Limit) -> int:
    if isinstance(rule, Clause):
        return sum(mask for mask, _ in rule.factors)
    watched = 0
    for mask in (*rule.total.masks, *rule.class_masks):
        watched |= mask
    return watched


def _concerned(watchers: list[tuple[int, int, Clause | Limit]], lost: int) -> int:
    return sum(turn for turn, watched, _ in watchers if watched & lost)


def _each_group_has_one(masks: tuple[int, ...], domain: int) -> bool:
    return all(domain & mask for mask in masks)
