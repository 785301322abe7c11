"""What follows at once: options that no build within a domain can have are removed."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from configurator.rules.lazy import Lazy, Rule
from configurator.rules.limits import Limit
from configurator.rules.options import ALWAYS, Member

if TYPE_CHECKING:
    from configurator.rules.model_building import SolverModel


class Rules:
    """Rules indexed by the groups that matter to them; lazy limits add to them when asked.

    What a lazy limit told is added to the rules this selection was made from, too.
    """

    __slots__ = (
        "_origin",
        "_turns_of",
        "base",
        "count_written",
        "every",
        "extra",
        "for_solver",
        "group_masks",
        "lazies",
        "written",
    )

    def __init__(
        self,
        group_masks: tuple[int, ...],
        every: Sequence[Rule],
        lazies: Sequence[Lazy],
        origin: Rules | None = None,
        extra: Sequence[Limit] = (),
    ) -> None:
        self.group_masks = group_masks
        self.every: list[Rule] = []
        self.lazies = tuple(lazies)
        self._origin = origin
        # The solver's model of the rules that stay, and the limits that hold for one question.
        self.base: Rules = origin.base if origin is not None and extra else self
        self.extra: tuple[Limit, ...] = (
            (*origin.extra, *extra) if origin is not None and extra else ()
        )
        self.for_solver: list[Rule] = []
        self.written: SolverModel | None = None
        self.count_written = 0
        self._turns_of = [0] * len(group_masks)
        for rule in (*every, *extra):
            self._add(rule)

    @property
    def members(self) -> list[Member]:
        """The ids of all rules, each once, in the order of the problem."""
        return list(dict.fromkeys(rule.member for rule in (*self.every, *self.lazies)))

    def with_limits(self, limits: Sequence[Limit]) -> Rules:
        """Give the same rules and some limits more."""
        return Rules(self.group_masks, self.every, self.lazies, self, limits)

    def of_members(self, members: Collection[Member]) -> Rules:
        """Give only the rules with these ids."""
        fewer = Rules(
            self.group_masks,
            [rule for rule in self.every if rule.member in members],
            [lazy for lazy in self.lazies if lazy.member in members],
            self,
        )
        fewer.for_solver = [rule for rule in self.base.for_solver if rule.member in members]
        return fewer

    def allow(self, build: int) -> bool:
        """Tell whether a complete build keeps every rule."""
        return all(rule.allows(build) for rule in self.every) and not self.refuse(build)

    def refuse(self, build: int, touched: set[Member] | None = None) -> bool:
        """Tell whether a lazy limit rules a complete build out, and learn what it tells."""
        refused = False
        for lazy in self.lazies:
            rule = lazy.rule_against(build)
            if rule is not None:
                refused = True
                self._learn(rule)
                if touched is not None:
                    touched.add(lazy.member)
        return refused

    def kept_by_lazies(self, builds: Sequence[int]) -> list[int]:
        """Give those of some builds that no lazy limit rules out, learning nothing."""
        kept = list(builds)
        for lazy in self.lazies:
            kept = lazy.kept(kept)
        return kept

    def tell_solver(self, told: Sequence[Rule]) -> None:
        """Have the solver know, from now on, rules that follow from those of large tables."""
        selection: Rules | None = self
        while selection is not None:
            if selection.base is selection:
                selection.for_solver += told
            selection = selection._origin

    def concerned(self, lost: int) -> int:
        """Give the turns of the rules that the loss of some options may matter to."""
        turns = 0
        for mask, of_group in zip(self.group_masks, self._turns_of, strict=True):
            if mask & lost:
                turns |= of_group
        return turns

    def _learn(self, rule: Rule) -> None:
        selection: Rules | None = self
        while selection is not None:
            if not any(rule is known for known in selection.every):
                selection._add(rule)
            selection = selection._origin

    def _add(self, rule: Rule) -> None:
        turn = 1 << len(self.every)
        self.every.append(rule)
        self.for_solver.append(rule)
        for position, mask in enumerate(self.group_masks):
            if mask & rule.watched:
                self._turns_of[position] |= turn


def narrowed(
    rules: Rules,
    domain: int,
    lost: int = 0,
    examined: int = 0,
    touched: set[Member] | None = None,
) -> int:
    """Remove options until no single rule removes any more.

    Parameters
    ----------
    rules : Rules
        What must hold.
    domain : int
        The options still possible, at least one in each group; or 0.
    lost : int
        The options lost since the domain was last narrowed.
    examined : int
        How many of the rules it was last narrowed by; the later ones are new to it.
    touched : set of Member, optional
        Receives the ids of the rules that removed anything.

    Returns
    -------
    int
        The smaller domain, or 0 when a contradiction was found. A domain with a single option in
        each group that comes back is a build that keeps every rule but perhaps a lazy limit.
    """
    if not domain:
        return 0
    every = rules.every
    pending = rules.concerned(lost) | ((1 << len(every)) - (1 << examined))
    while pending:
        turn = pending & -pending
        pending ^= turn
        rule = every[turn.bit_length() - 1]
        smaller = rule.narrowed(domain)
        if smaller == domain:
            continue
        if touched is not None:
            touched.add(rule.member)
        if not smaller or not all(smaller & mask for mask in rules.group_masks):
            return 0
        # A rule may find more to remove after its own removal, so it is asked again too.
        pending |= rules.concerned(domain ^ smaller)
        domain = smaller
    return domain


def is_complete(rules: Rules, domain: int) -> bool:
    """Tell whether each group has a single option left."""
    return (domain & ~ALWAYS).bit_count() == len(rules.group_masks)
