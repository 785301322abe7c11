"""Builds counted group by group: what matters of the groups behind is little.

A forbidden combination *threatens* while every group of it that lies behind took an option that it
means. Builds that leave the same threats among the groups ahead are counted together.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.rules.forbidden import Meant, Open

MOST_STATES = 2_000
"""Sets of threats told apart; beyond, the threat that would last longest is forgotten."""


@dataclass(frozen=True)
class Step:
    """One group as the counting goes through it; combinations are bits."""

    group: str
    lifted_by: tuple[tuple[str, int], ...]
    """Option, and the combinations that it puts an end to."""
    last_of: int
    """Combinations of which no group lies ahead."""


def steps_through(left: Open, combinations: Sequence[Meant]) -> list[Step]:
    """Order the groups so that few combinations are begun and not ended at a time."""
    order = _order(left, combinations)
    place = {group: at for at, group in enumerate(order)}
    named_by: dict[str, list[tuple[int, frozenset[str]]]] = {group: [] for group in order}
    last_of = dict.fromkeys(order, 0)
    for number, meant in enumerate(combinations):
        for group, options in meant.items():
            named_by[group].append((1 << number, options))
        if meant:
            last_of[order[max(place[group] for group in meant)]] |= 1 << number
    return [
        Step(
            group,
            tuple(
                (option, sum(bit for bit, meant in named_by[group] if option not in meant))
                for option in left[group]
            ),
            last_of[group],
        )
        for group in order
    ]


def count_kept(steps: Sequence[Step], combinations: Sequence[Meant]) -> tuple[int, bool]:
    """Count the builds without any of the combinations.

    Returns
    -------
    tuple of int and bool
        The number, and whether it is exact; it may else be too large, never too small.

    Examples
    --------
    >>> left = {"roof": ("steel", "canvas"), "floor": ("cork", "carpet")}
    >>> wet = [{"floor": frozenset({"carpet"}), "roof": frozenset({"canvas"})}]
    >>> count_kept(steps_through(left, wet), wet)
    (3, True)
    """
    everything = (1 << len(combinations)) - 1
    counts: dict[int, int] = {everything: 1}
    is_exact = True
    for at, step in enumerate(steps):
        times = Counter(lifted for _, lifted in step.lifted_by)
        after: defaultdict[int, int] = defaultdict(int)
        for threats, count in counts.items():
            for lifted, many in times.items():
                still = threats & ~lifted
                if not still & step.last_of:
                    after[still] += count * many
        counts = after
        while len(counts) > MOST_STATES:
            counts = _forgetting_one(counts, steps[at + 1 :])
            is_exact = False
    return sum(counts.values()), is_exact


def _forgetting_one(counts: dict[int, int], ahead: Sequence[Step]) -> dict[int, int]:
    """Let one combination that some builds threaten and some don't count as avoided by all."""
    by_some = 0
    in_all = ~0
    for threats in counts:
        by_some |= threats
        in_all &= threats
    told_apart = by_some & ~in_all
    last = next(step.last_of & told_apart for step in reversed(ahead) if step.last_of & told_apart)
    forgotten = last & -last
    merged: defaultdict[int, int] = defaultdict(int)
    for threats, count in counts.items():
        merged[threats & ~forgotten] += count
    return merged


def _order(left: Open, combinations: Sequence[Meant]) -> list[str]:
    """Take the group next that leaves the fewest combinations begun and not ended."""
    named_by = {
        group: {number for number, meant in enumerate(combinations) if group in meant}
        for group in left
    }
    missing = [len(meant) for meant in combinations]
    begun: set[int] = set()
    order: list[str] = []
    ahead = list(left)
    while ahead:
        best = min(
            ahead,
            key=lambda group: (
                sum(
                    -1 if missing[number] == 1 and number in begun else number not in begun
                    for number in named_by[group]
                    if missing[number] > 1 or number in begun
                ),
                len(left[group]),
            ),
        )
        ahead.remove(best)
        order.append(best)
        for number in named_by[best]:
            missing[number] -= 1
        begun |= named_by[best]
    return order
