"""Extremes already found for a compiled build, reused while they still hold.

The least over many builds is the least over any part of them that the build found lies in. So most
questions after a pick were answered before it.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import islice
from threading import Lock

from configurator.rules.problem import Quantity

Answer = tuple[int, Mapping[str, str]] | None
"""The extreme and a build that has it; None when no build is possible."""

Within = Mapping[str, frozenset[str]]
"""Group → options allowed there; other groups are free."""

QUANTITIES_KEPT = 120
ANSWERS_KEPT = 400
LOOKED_THROUGH = 80
EMPTY_KEPT = 300


@dataclass
class _Answers:
    quantity: Quantity
    """Held, so that its identity is not given to another while answers are known."""
    by_region: OrderedDict[frozenset[tuple[str, frozenset[str]]], tuple[Within, Answer]] = field(
        default_factory=OrderedDict
    )


@dataclass
class EmptyParts:
    """Where no build is possible, whatever is sought; when there are too many all are forgotten."""

    _by_option: dict[tuple[str, str], list[Within]] = field(default_factory=dict)
    """Under each option of the group that leaves fewest."""
    _count: int = 0

    def add(self, within: Within) -> None:
        """Remember that no build is possible somewhere."""
        if not within:
            return
        if self._count == EMPTY_KEPT:
            self._by_option.clear()
            self._count = 0
        self._count += 1
        group = min(within, key=lambda group: len(within[group]))
        for option in within[group]:
            self._by_option.setdefault((group, option), []).append(within)

    def cover(self, within: Within) -> bool:
        """Tell whether somewhere is known to be empty, as part of what is."""
        return any(
            _covers(empty, within)
            for group, options in within.items()
            for empty in self._by_option.get((group, next(iter(options), "")), ())
        )


@dataclass
class KnownExtremes:
    """Answers by quantity, gap and side; bounded, safe for threads."""

    _answers: OrderedDict[tuple[int, int, bool], _Answers] = field(default_factory=OrderedDict)
    _empty: EmptyParts = field(default_factory=EmptyParts)
    _lock: Lock = field(default_factory=Lock)

    def find(
        self, quantity: Quantity, within: Within, gap: int, *, least: bool, is_whole: bool
    ) -> tuple[Answer] | None:
        """Find an answer that still holds; the answer in a tuple of one, since it may be None.

        `is_whole` spares the look for a part that is empty: the builds sought are all there are.
        """
        with self._lock:
            if not is_whole and self._empty.cover(within):
                return (None,)
            known = self._answers.get((id(quantity), gap, least))
            if known is None:
                return None
            exact = known.by_region.get(frozenset(within.items()))
            if exact is not None:
                return (exact[1],)
            for wider, answer in islice(reversed(known.by_region.values()), LOOKED_THROUGH):
                # The build is looked at first: most often it tells that the answer is of no use.
                if (answer is None or _holds(within, answer[1])) and _covers(wider, within):
                    return (answer,)
            return None

    def keep(
        self, quantity: Quantity, within: Within, gap: int, answer: Answer, *, least: bool
    ) -> None:
        """Remember an answer; the oldest go first."""
        with self._lock:
            if answer is None:
                self._empty.add(within)
                return
            known = self._answers.setdefault((id(quantity), gap, least), _Answers(quantity))
            self._answers.move_to_end((id(quantity), gap, least))
            known.by_region[frozenset(within.items())] = (within, answer)
            if len(known.by_region) > ANSWERS_KEPT:
                known.by_region.popitem(last=False)
            if len(self._answers) > QUANTITIES_KEPT:
                self._answers.popitem(last=False)


def _covers(wider: Within, narrower: Within) -> bool:
    return all(g in narrower and narrower[g] <= options for g, options in wider.items())


def _holds(within: Within, build: Mapping[str, str]) -> bool:
    return all(build[group] in options for group, options in within.items())
