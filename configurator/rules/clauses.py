"""Implications as clauses: sets of options that may not be taken all together."""

from __future__ import annotations

from collections.abc import Iterable

from configurator.rules.options import Member, OptionBits
from configurator.rules.problem import Implication


class Clause:
    """Not every one of these groups may take one of its options in `factors`.

    `factors` pairs a group's whole mask with the mask of the options meant. No factor at all
    means that no build is allowed.
    """

    __slots__ = ("factors", "member", "watched")

    def __init__(self, member: Member, factors: tuple[tuple[int, int], ...]) -> None:
        self.member = member
        self.factors = factors
        self.watched = sum(mask for mask, _ in factors)

    def allows(self, build: int) -> bool:
        """Tell whether a complete build keeps the clause."""
        return not all(build & meant for _, meant in self.factors)

    def narrowed(self, domain: int) -> int:
        """Remove what the clause forbids for certain; 0 when nothing is left.

        A group of the clause that is already empty of the options meant satisfies it.
        """
        undecided = 0
        for group_mask, meant in self.factors:
            inside = domain & meant
            if not inside:
                return domain
            if inside != domain & group_mask:
                if undecided:
                    return domain
                undecided = inside
        return domain & ~undecided if undecided else 0


def clauses_of(implications: Iterable[Implication], names: OptionBits) -> tuple[Clause, ...]:
    """Turn each implication into one clause for each group in its `then`.

    An option that does not exist is never taken, so naming one changes nothing.

    Raises
    ------
    ValueError
        If an implication names a group that does not exist.
    """
    clauses = []
    for implication in implications:
        when = {
            names.position(group): names.mask(group, options)
            for group, options in implication.when.items()
        }
        for group, options in implication.then.items():
            position = names.position(group)
            forbidden = names.group_masks[position] & ~names.mask(group, options)
            meant = {**when, position: forbidden & when.get(position, forbidden)}
            if all(meant.values()):
                clauses.append(_clause(("implication", implication.id), meant, names))
    return tuple(clauses)


def _clause(member: Member, meant: dict[int, int], names: OptionBits) -> Clause:
    masks = names.group_masks
    return Clause(
        member,
        tuple((masks[at], mask) for at, mask in sorted(meant.items()) if mask != masks[at]),
    )
