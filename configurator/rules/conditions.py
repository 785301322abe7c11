"""A limit that holds only where some groups take some of their options."""

from __future__ import annotations

from configurator.rules.clauses import Clause
from configurator.rules.limits import Limit, limit_without_table
from configurator.rules.options import Member, OptionBits
from configurator.rules.problem import ConditionalLimit
from configurator.rules.sums import Sum


class Condition:
    """A sum must stay within a bound where each group of `factors` takes an option meant."""

    __slots__ = ("bound", "factors", "inner", "member", "watched")

    def __init__(
        self, member: Member, factors: tuple[tuple[int, int], ...], total: Sum, bound: int
    ) -> None:
        self.member = member
        self.factors = factors
        self.bound = bound
        self.inner = limit_without_table(member, total, bound)
        self.watched = self.inner.watched
        for mask, _ in factors:
            self.watched |= mask

    @property
    def total(self) -> Sum:
        """The sum that is limited."""
        return self.inner.total

    def allows(self, build: int) -> bool:
        """Tell whether a complete build keeps the limit."""
        return not all(build & meant for _, meant in self.factors) or self.inner.allows(build)

    def narrowed(self, domain: int) -> int:
        """Remove what breaks the limit whatever else is chosen; 0 when nothing is left.

        While one group of the condition is undecided, its options meant go when even the least
        sum with them is too much.
        """
        undecided = 0
        within = 0
        for group_mask, meant in self.factors:
            inside = domain & meant
            if not inside:
                return domain
            if inside != domain & group_mask:
                if undecided:
                    return domain
                undecided, within = inside, domain & ~group_mask | inside
        if not undecided:
            return self.inner.narrowed(domain)
        return domain & ~undecided if self.total.least(within) > self.bound else domain


def condition_of(
    limit: ConditionalLimit, total: Sum, names: OptionBits
) -> Clause | Limit | Condition:
    """Compile a conditional limit into the simplest rule that says the same.

    Options that do not exist are never taken, so a condition on them alone never holds.

    Raises
    ------
    ValueError
        If the condition names a group that does not exist.
    """
    member = ("limit", limit.id)
    factors = []
    for group, options in limit.when.items():
        group_mask = names.group_masks[names.position(group)]
        meant = names.mask(group, options)
        if meant != group_mask:
            factors.append((group_mask, meant))
    if limit.at_most is None:
        return Clause(member, tuple(factors))
    bound = min(limit.at_most, total.greatest(names.everything))
    if not factors:
        return limit_without_table(member, total, bound)
    return Condition(member, tuple(factors), total, bound)
