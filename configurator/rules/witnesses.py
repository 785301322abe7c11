"""Builds known to keep every rule: each settles many options at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from configurator.rules.clauses import Clause
from configurator.rules.conditions import Condition
from configurator.rules.limits import Limit
from configurator.rules.options import OptionBits, bits_of
from configurator.rules.propagation import Rules

_KEPT = 500


@dataclass(frozen=True)
class Witness:
    """A build, and what each limit has left of its bound."""

    build: int
    slacks: tuple[int, ...]


class Neighbours:
    """Checks builds that differ from a witness in one option, without summing afresh."""

    def __init__(self, rules: Rules, names: OptionBits) -> None:
        self._rules = rules
        self._names = names
        self._indexed = 0
        self._limits: list[Limit] = []
        self._mask_of = {bit: mask for mask in names.group_masks for bit in bits_of(mask)}
        self._broken_by: dict[int, list[tuple[int, ...]]] = {bit: [] for bit in self._mask_of}
        self._checked: dict[int, list[Limit | Condition]] = {bit: [] for bit in self._mask_of}
        self._weighed: dict[int, list[tuple[int, dict[int, int]]]] = {
            bit: [] for bit in self._mask_of
        }

    def witness(self, build: int) -> Witness:
        """Add to a build that keeps every rule what its limits leave."""
        self._index_new_rules()
        slacks = (
            limit.bound(limit.rows(build)) - limit.total.least(build) for limit in self._limits
        )
        return Witness(build, tuple(slacks))

    def changed(self, witness: Witness, option: int) -> int:
        """Give the witness's build with one option changed, or 0 when that breaks a rule.

        Lazy limits are not asked.
        """
        old = witness.build & self._mask_of[option]
        build = witness.build ^ old | option
        for others in self._broken_by[option]:
            if all(build & meant for meant in others):
                return 0
        for at, weights in self._weighed[option]:
            if weights[option] - weights[old] > witness.slacks[at]:
                return 0
        for rule in self._checked[option]:
            if not rule.allows(build):
                return 0
        return build

    def _index_new_rules(self) -> None:
        for rule in self._rules.every[self._indexed :]:
            if isinstance(rule, Clause):
                self._index_clause(rule)
            else:
                self._index_limit(rule)
        self._indexed = len(self._rules.every)

    def _index_clause(self, clause: Clause) -> None:
        for _, meant in clause.factors:
            for bit in bits_of(meant):
                others = tuple(mask for _, mask in clause.factors if not mask & bit)
                self._broken_by[bit].append(others)

    def _index_limit(self, rule: Limit | Condition) -> None:
        for mask in self._names.group_masks:
            if not mask & rule.watched:
                continue
            if isinstance(rule, Limit) and mask not in rule.class_masks:
                for bit in bits_of(mask):
                    self._weighed[bit].append((len(self._limits), rule.total.weights))
            else:
                for bit in bits_of(mask):
                    self._checked[bit].append(rule)
        if isinstance(rule, Limit):
            self._limits.append(rule)


class WitnessPool:
    """The builds found last, oldest forgotten first."""

    def __init__(self) -> None:
        self._builds: dict[int, None] = {}

    def __iter__(self) -> Iterator[int]:
        """Go through the builds, the oldest first."""
        return iter(self._builds)

    def add(self, build: int) -> None:
        """Remember a build, or move it to the end when it is known."""
        self._builds.pop(build, None)
        self._builds[build] = None
        if len(self._builds) > _KEPT:
            del self._builds[next(iter(self._builds))]

    def with_all(self, picked: int) -> int:
        """Give the latest build that has all the picked options, or 0."""
        for build in reversed(self._builds):
            if build & picked == picked:
                return build
        return 0
