"""Builds counted or listed group by group under limits on sums as well.

Beside the threats (see `frontier`), what matters of the groups behind is each limit's sum so far,
as long as the groups ahead can still make the difference between keeping and breaking it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from configurator.rules.forbidden import Meant, Open, read_within
from configurator.rules.frontier import Step, steps_through
from configurator.rules.problem import ConditionalLimit, Quantity

MOST_STATES = 3_000
"""Ways that the groups behind may stand; beyond, nothing is counted."""

Behind: TypeAlias = tuple[int, tuple[int | None, ...]]
"""What still threatens, and by limit its sum so far or None once it is kept whatever comes."""


@dataclass(frozen=True)
class Room:
    """How a limit's sum may stand behind one group."""

    weights: dict[str, int]
    applies: int
    """The limit's bit among the threats: gone once a build has left the limit's region."""
    kept_to: int
    """With a sum up to here the limit is kept whatever comes."""
    broken_above: int | None
    """With a sum above it is broken whatever comes; None while the region may still be left."""


@dataclass(frozen=True)
class Way:
    """The groups in order, and how limits may stand behind each."""

    start: Behind
    steps: tuple[tuple[Step, tuple[Room, ...]], ...]
    forbidden: int
    """The bits of the combinations that are forbidden; the others say where limits apply."""


def breakable(limits: Sequence[ConditionalLimit], left: Open) -> list[ConditionalLimit] | None:
    """Keep the limits that some of the open options could break, each read over those alone.

    Returns
    -------
    list of ConditionalLimit, or None
        None when every build breaks one of them.

    Examples
    --------
    >>> from configurator.rules.problem import Quantity
    >>> heavy = Quantity(10, {("pack", "large"): 5})
    >>> limits = [ConditionalLimit("mass", {}, heavy, 12), ConditionalLimit("axle", {}, heavy, 15)]
    >>> [limit.id for limit in breakable(limits, {"pack": ("small", "large")})]
    ['mass']
    """
    found = []
    for limit in limits:
        region = read_within(left, limit.when)
        if limit.at_most is None or region is None:
            continue
        least, most = _span(limit.quantity, {**left, **region})
        if least > limit.at_most and not region:
            return None
        if most > limit.at_most:
            found.append(ConditionalLimit(limit.id, region, limit.quantity, limit.at_most))
    return found


def way_through(left: Open, forbidden: Sequence[Meant], limits: Sequence[ConditionalLimit]) -> Way:
    """Order the groups and work out how limits may stand behind each."""
    combinations = [*forbidden, *(dict(limit.when) for limit in limits)]
    steps = steps_through(left, combinations)
    rooms = [
        _rooms(limit, 1 << number, steps)
        for number, limit in enumerate(limits, start=len(forbidden))
    ]
    start = (1 << len(combinations)) - 1, tuple(limit.quantity.constant for limit in limits)
    together = tuple(
        (step, tuple(of_limit[at] for of_limit in rooms)) for at, step in enumerate(steps)
    )
    return Way(start, together, (1 << len(forbidden)) - 1)


def count_along(way: Way) -> int | None:
    """Count the builds that keep everything; None where that takes too many states."""
    counts: dict[Behind, int] = {way.start: 1}
    for step, rooms in way.steps:
        after: defaultdict[Behind, int] = defaultdict(int)
        for behind, count in counts.items():
            for option, lifted in step.lifted_by:
                taken = _taken(behind, option, lifted, step.last_of & way.forbidden, rooms)
                if taken is not None:
                    after[taken] += count
        if len(after) > MOST_STATES:
            return None
        counts = after
    return sum(counts.values())


def list_along(way: Way, most: int) -> list[dict[str, str]] | None:
    """List the builds that keep everything; None where more than so many begin well."""
    begun: list[tuple[Behind, dict[str, str]]] = [(way.start, {})]
    for step, rooms in way.steps:
        begun = [
            (taken, build | {step.group: option})
            for behind, build in begun
            for option, lifted in step.lifted_by
            if (taken := _taken(behind, option, lifted, step.last_of & way.forbidden, rooms))
            is not None
        ]
        if len(begun) > most:
            return None
    return [build for _, build in begun]


def _taken(
    behind: Behind, option: str, lifted: int, ending: int, rooms: tuple[Room, ...]
) -> Behind | None:
    """Take one more option; None when that breaks something for certain."""
    threats = behind[0] & ~lifted
    if threats & ending:
        return None
    sums: list[int | None] = []
    for room, so_far in zip(rooms, behind[1], strict=True):
        if so_far is None or not threats & room.applies:
            sums.append(None)
            continue
        total = so_far + room.weights.get(option, 0)
        if total <= room.kept_to:
            threats &= ~room.applies
            sums.append(None)
        elif room.broken_above is not None and total > room.broken_above:
            return None
        else:
            sums.append(total)
    return threats, tuple(sums)


def _rooms(limit: ConditionalLimit, applies: int, steps: Sequence[Step]) -> list[Room]:
    at_most = limit.at_most or 0
    offered = {step.group: [option for option, _ in step.lifted_by] for step in steps}
    rooms = []
    for step in steps:
        weights = {
            option: limit.quantity.weights.get((step.group, option), 0)
            for option in offered.pop(step.group)
        }
        least, most = (end - limit.quantity.constant for end in _span(limit.quantity, offered))
        is_in_for_certain = not limit.when.keys() & offered.keys()
        broken_above = at_most - least if is_in_for_certain else None
        rooms.append(Room(weights, applies, at_most - most, broken_above))
    return rooms


def _span(quantity: Quantity, offered: Mapping[str, Collection[str]]) -> tuple[int, int]:
    """Sum the least and the greatest weights of some groups, the constant included."""
    weights = [
        [quantity.weights.get((group, option), 0) for option in options]
        for group, options in offered.items()
    ]
    return quantity.constant + sum(map(min, weights)), quantity.constant + sum(map(max, weights))
