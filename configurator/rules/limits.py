"""A limit over bits: which rows of its table are left, and what they leave possible."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.rules.options import Member, OptionBits, bits_of
from configurator.rules.problem import QuantityLimit
from configurator.rules.sums import Sum


class Limit:
    """A sum that must stay within the bound of the row that the class groups select.

    Rows are bits in order of falling bound, so the lowest bit left is the most generous row.
    """

    __slots__ = (
        "bounds",
        "class_masks",
        "every_row",
        "member",
        "rows_of",
        "rows_seen",
        "total",
        "watched",
    )

    def __init__(
        self,
        member: Member,
        total: Sum,
        bounds: list[int],
        class_masks: tuple[int, ...],
        rows_of: Mapping[int, int],
    ) -> None:
        self.member = member
        self.total = total
        self.bounds = bounds
        self.class_masks = class_masks
        self.rows_of = rows_of
        self.rows_seen: dict[int, int] = {}
        self.every_row = (1 << len(bounds)) - 1
        self.watched = 0
        for mask in (*total.masks, *class_masks):
            self.watched |= mask

    def rows(self, domain: int) -> int:
        """Give the rows that some choice of the class groups still selects."""
        rows = self.every_row
        for mask in self.class_masks:
            part = domain & mask
            seen = self.rows_seen.get(part)
            if seen is None:
                seen = 0
                for bit in bits_of(part):
                    seen |= self.rows_of[bit]
                self.rows_seen[part] = seen
            rows &= seen
        return rows

    def bound(self, rows: int) -> int:
        """Give the most generous bound among some rows."""
        return self.bounds[(rows & -rows).bit_length() - 1]

    def allows(self, build: int) -> bool:
        """Tell whether a complete build keeps the limit."""
        rows = self.rows(build)
        return bool(rows) and self.total.least(build) <= self.bound(rows)

    def narrowed(self, domain: int) -> int:
        """Remove options that break the limit whatever else is chosen; 0 when nothing is left."""
        rows = self.rows(domain)
        if not rows:
            return 0
        total = self.total
        least = total.constant
        widest = 0
        spans = total.spans
        for mask in total.masks:
            part = domain & mask
            span = spans.get(part) or total.span(part)
            least += span[0]
            if span[1] > widest:  # noqa: PLR1730 - calling max doubles the time of this loop.
                widest = span[1]
        slack = self.bound(rows) - least
        if slack < 0:
            return 0
        if widest > slack:
            domain = self._without_too_heavy(domain, slack)
        if self.class_masks:
            domain = self._without_rowless(domain, rows, least)
        return domain

    def _without_too_heavy(self, domain: int, slack: int) -> int:
        total = self.total
        for mask in total.masks:
            part = domain & mask
            lightest, spread = total.span(part)
            if spread > slack:
                for bit in bits_of(part):
                    if total.weights[bit] - lightest > slack:
                        domain ^= bit
        return domain

    def _without_rowless(self, domain: int, rows: int, least: int) -> int:
        total = self.total
        for mask in self.class_masks:
            part = domain & mask
            if not part & (part - 1):
                continue
            lightest = total.span(part)[0] if mask in total.masks else 0
            for bit in bits_of(part):
                left = rows & self.rows_of[bit]
                added = total.weights.get(bit, 0) - lightest
                if not left or least + added > self.bound(left):
                    domain ^= bit
            if not domain & mask:
                return 0
        return domain


def limit_without_table(member: Member, total: Sum, bound: int) -> Limit:
    """Make a limit with the same bound for every build."""
    return Limit(member, total, [bound], (), {})


def limit_of(limit: QuantityLimit, total: Sum, names: OptionBits) -> Limit:
    """Compile a limit on a compiled sum.

    Raises
    ------
    ValueError
        If its classes or bounds do not fit the groups.
    """
    class_masks = tuple(names.group_masks[names.position(group)] for group, _ in limit.classes)
    _check_table(limit, names)
    most = total.greatest(names.everything)
    table = sorted(
        (-most if bound is None else -min(bound, most), key) for key, bound in limit.bounds.items()
    )
    rows_of_class: dict[tuple[int, int], int] = {}
    for row, (_, key) in enumerate(table):
        for at, number in enumerate(key):
            rows_of_class[at, number] = rows_of_class.get((at, number), 0) | 1 << row
    rows_of: dict[int, int] = {}
    for at, (group, classes) in enumerate(limit.classes):
        for option, number in classes.items():
            if (group, option) in names.bit_of:
                rows_of[names.bit_of[group, option]] = rows_of_class.get((at, number), 0)
    return Limit(("limit", limit.id), total, [-bound for bound, _ in table], class_masks, rows_of)


def _check_table(limit: QuantityLimit, names: OptionBits) -> None:
    groups = [group for group, _ in limit.classes]
    if len(set(groups)) != len(groups):
        message = f'limit "{limit.id}": its class groups are {groups}; name each only once.'
        raise ValueError(message)
    for group, classes in limit.classes:
        mask = names.group_masks[names.position(group)]
        missing = [names.pair_of[bit][1] for bit in bits_of(mask)]
        missing = [option for option in missing if option not in classes]
        if missing:
            message = (
                f'limit "{limit.id}": group "{group}" has no class for {missing}; each option '
                "needs one. Give every option of the group a class."
            )
            raise ValueError(message)
    if any(len(key) != len(groups) for key in limit.bounds):
        message = (
            f'limit "{limit.id}": a bound has the wrong number of classes; it needs '
            f"{len(groups)}, one for each of {groups}."
        )
        raise ValueError(message)
