"""Builds counted by taking one group at a time and counting what falls apart separately."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import prod
from typing import TypeAlias

from configurator.rules.forbidden import Meant, Open, tidied

Part: TypeAlias = tuple[Open, list[Meant]]


class TooManyStepsError(Exception):
    """Counting took more steps than allowed."""


def count_apart(left: Open, forbidden: Sequence[Meant], most_steps: int) -> int | None:
    """Count the builds without any of the combinations; None if that takes too many steps.

    Examples
    --------
    >>> left = {"roof": ("steel", "canvas"), "floor": ("cork", "carpet"), "door": ("oak", "ash")}
    >>> wet = [{"floor": frozenset({"carpet"}), "roof": frozenset({"canvas"})}]
    >>> count_apart(left, wet, most_steps=100)
    6
    """
    try:
        return _Counting(most_steps).of(left, forbidden)
    except TooManyStepsError:
        return None


class _Counting:
    def __init__(self, most_steps: int) -> None:
        self._steps_left = most_steps
        self._known: dict[object, int] = {}

    def of(self, left: Open, forbidden: Sequence[Meant]) -> int:
        named = {group for meant in forbidden for group in meant}
        free = prod(len(options) for group, options in left.items() if group not in named)
        return free * prod(self._of_part(*part) for part in _parts(left, forbidden))

    def _of_part(self, left: Open, forbidden: list[Meant]) -> int:
        key = frozenset(left.items()), frozenset(frozenset(m.items()) for m in forbidden)
        if key not in self._known:
            if not self._steps_left:
                raise TooManyStepsError
            self._steps_left -= 1
            group = _busiest(left, forbidden)
            self._known[key] = sum(
                self.of(*found)
                for options in _told_apart(group, left, forbidden)
                if (found := tidied({**left, group: options}, forbidden)) is not None
            )
        return self._known[key]


def _parts(left: Open, forbidden: Sequence[Meant]) -> Iterator[Part]:
    """Part the groups that no chain of combinations connects."""
    waiting = list(forbidden)
    while waiting:
        groups: set[str] = set(waiting[0])
        inside: list[Meant] = []
        grown = True
        while grown:
            touching = [meant for meant in waiting if not groups.isdisjoint(meant)]
            waiting = [meant for meant in waiting if groups.isdisjoint(meant)]
            inside += touching
            grown = bool(touching)
            groups.update(*touching)
        yield {group: left[group] for group in left if group in groups}, inside


def _busiest(left: Open, forbidden: Sequence[Meant]) -> str:
    """Choose the group whose settling says most: of many and of short combinations."""
    weight = dict.fromkeys(left, 0.0)
    for meant in forbidden:
        for group in meant:
            weight[group] += 2.0 ** -len(meant)
    return max(weight, key=weight.__getitem__)


def _told_apart(group: str, left: Open, forbidden: Sequence[Meant]) -> list[tuple[str, ...]]:
    """Put the options of a group together that the same combinations mean."""
    named = [meant[group] for meant in forbidden if group in meant]
    alike: dict[tuple[bool, ...], tuple[str, ...]] = {}
    for option in left[group]:
        signature = tuple(option in meant for meant in named)
        alike[signature] = (*alike.get(signature, ()), option)
    return list(alike.values())
