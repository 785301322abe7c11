"""Builds known to keep every rule: each settles many options at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

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
        self._limits = rules.limits
        self._mask_of: dict[int, int] = {}
        self._clauses_of: dict[int, list[tuple[int, ...]]] = {}
        self._limits_of: dict[int, list[tuple[int, Limit, bool]]] = {}
        for mask in names.group_masks:
            concerned = [
                (at, limit, mask in limit.class_masks)
                for at, limit in enumerate(rules.limits)
                if mask in limit.class_masks or mask in limit.total.masks
            ]
            for bit in bits_of(mask):
                self._mask_of[bit] = mask
                self._limits_of[bit] = concerned
                self._clauses_of[bit] = [
                    tuple(meant for _, meant in clause.factors if not meant & bit)
                    for clause in rules.clauses
                    if any(meant & bit for _, meant in clause.factors)
                ]

    def witness(self, build: int) -> Witness:
        """Add to a build that keeps every rule what its limits leave."""
        return Witness(
            build,
            tuple(
                limit.bound(limit.rows(build)) - limit.total.least(build) for limit in self._limits
            ),
        )

    def changed(self, witness: Witness, option: int) -> int:
        """Give the witness's build with one option changed, or 0 when that breaks a rule."""
        mask = self._mask_of[option]
        old = witness.build & mask
        build = witness.build ^ old | option
        for others in self._clauses_of[option]:
            if all(build & meant for meant in others):
                return 0
        for at, limit, selects_row in self._limits_of[option]:
            if selects_row:
                if not limit.allows(build):
                    return 0
            else:
                weights = limit.total.weights
                if weights[option] - weights[old] > witness.slacks[at]:
                    return 0
        return build


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
