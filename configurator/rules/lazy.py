"""Limits that are told only for the builds that somebody asks about."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from configurator.rules.clauses import Clause
from configurator.rules.conditions import Condition, condition_of
from configurator.rules.limits import Limit
from configurator.rules.options import OptionBits
from configurator.rules.problem import LazyLimit, SwiftLazyLimit
from configurator.rules.sums import sum_of

Rule: TypeAlias = Clause | Limit | Condition

_ANSWERS_KEPT = 20_000


class Lazy:
    """A lazy limit, with what it told so far."""

    def __init__(self, limit: LazyLimit, names: OptionBits) -> None:
        self.member = ("limit", limit.id)
        self._limit = limit
        self._names = names
        self._told: dict[int, Rule | None] = {}

    def rule_against(self, build: int) -> Rule | None:
        """Give a rule that a complete build breaks and every allowed one keeps, or None.

        Raises
        ------
        RuntimeError
            If what is told does not rule the build out, so that asking on would never end.
        """
        if build not in self._told:
            if len(self._told) > _ANSWERS_KEPT:
                self._told.clear()
            self._told[build] = self._asked(build)
        return self._told[build]

    def kept(self, builds: Sequence[int]) -> list[int]:
        """Give those of some complete builds that keep the limit."""
        limit = self._limit
        if isinstance(limit, SwiftLazyLimit):
            unasked = [build for build in builds if build not in self._told]
            judged = limit.kept_by([self._names.choices(build) for build in unasked])
            broken = {build for build, kept in zip(unasked, judged, strict=True) if not kept}
            self._told |= dict.fromkeys(set(unasked) - broken)
            builds = [build for build in builds if build not in broken]
        return [build for build in builds if self.rule_against(build) is None]

    def _asked(self, build: int) -> Rule | None:
        told = self._limit.broken_by(self._names.choices(build))
        if told is None:
            return None
        rule = condition_of(told, sum_of(told.quantity, self._names), self._names)
        if rule.allows(build):
            choices = self._names.choices(build)
            message = (
                f'limit "{self._limit.id}": it says that {choices} breaks {told}, which it keeps; '
                "a limit told must be broken by the choices asked about."
            )
            raise RuntimeError(message)
        rule.member = self.member
        return rule
