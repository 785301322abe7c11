"""Options as single bits, so that what is still possible is one whole number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TypeAlias

from configurator.rules.problem import Domain

# Belongs to no group and is part of every domain, so that 0 can mean "contradiction".
ALWAYS = 1

# ("implication" or "limit", id): what a conflict is made of. Rules that share one stand together.
Member: TypeAlias = tuple[str, str]


def bits_of(mask: int) -> Iterator[int]:
    """Yield each single bit of a mask, lowest first.

    Examples
    --------
    >>> list(bits_of(0b1010))
    [2, 8]
    """
    while mask:
        lowest = mask & -mask
        yield lowest
        mask ^= lowest


@dataclass(frozen=True)
class OptionBits:
    """The one place that knows which bit stands for which option."""

    group_ids: tuple[str, ...]
    group_masks: tuple[int, ...]
    position_of_group: Mapping[str, int]
    bit_of: Mapping[tuple[str, str], int]
    pair_of: Mapping[int, tuple[str, str]]
    position_of: Mapping[int, int]

    @property
    def everything(self) -> int:
        """The domain in which nothing is chosen yet."""
        return ALWAYS | sum(self.group_masks)

    def position(self, group_id: str) -> int:
        """Find a group's position, or raise ValueError naming the group."""
        try:
            return self.position_of_group[group_id]
        except KeyError:
            raise ValueError(_unknown("group", group_id, self.group_ids)) from None

    def bit(self, group_id: str, option_id: str) -> int:
        """Find an option's bit, or raise ValueError naming the group and the option."""
        bit = self.bit_of.get((group_id, option_id))
        if bit is None:
            mask = self.group_masks[self.position(group_id)]
            known = tuple(self.pair_of[each][1] for each in bits_of(mask))
            raise ValueError(_unknown(f'option of group "{group_id}"', option_id, known))
        return bit

    def mask(self, group_id: str, option_ids: frozenset[str]) -> int:
        """Join the bits of several options of one group; options nobody can take are left out."""
        self.position(group_id)
        return sum(self.bit_of.get((group_id, option_id), 0) for option_id in option_ids)

    def left_out(self, allowed: Mapping[str, frozenset[str]]) -> int:
        """Join the bits of the options that groups may not take."""
        return sum(
            self.group_masks[self.position(group_id)] & ~self.mask(group_id, option_ids)
            for group_id, option_ids in allowed.items()
        )

    def pick_mask(self, picks: Mapping[str, str]) -> int:
        """Join the bits of picks of different groups; 0 when there are none."""
        return sum(self.bit(group_id, option_id) for group_id, option_id in picks.items())

    def within(self, domain: int, picked: int) -> int:
        """Take the picked options for their groups and leave the other groups as they are.

        Gives 0 when a picked option is not in the domain.
        """
        if picked & ~domain:
            return 0
        for bit in bits_of(picked):
            domain &= bit | ~self.group_masks[self.position_of[bit]]
        return domain

    def choices(self, build: int) -> dict[str, str]:
        """Name the options of a complete build, in the order of the groups."""
        return dict(self.pair_of[bit] for bit in bits_of(build & ~ALWAYS))


def option_bits(domains: tuple[Domain, ...]) -> OptionBits:
    """Give each option of each group its bit.

    Raises
    ------
    ValueError
        If two groups or two options of a group share an id, or a group has no option.

    Examples
    --------
    >>> names = option_bits((Domain("roof", ("steel", "canvas")), Domain("floor", ("cork",))))
    >>> names.choices(names.pick_mask({"roof": "canvas", "floor": "cork"}))
    {'roof': 'canvas', 'floor': 'cork'}
    """
    bit_of: dict[tuple[str, str], int] = {}
    position_of: dict[int, int] = {}
    masks: list[int] = []
    next_bit = ALWAYS << 1
    for position, domain in enumerate(domains):
        if not domain.options or len(set(domain.options)) != len(domain.options):
            message = (
                f'group "{domain.id}": its options are {list(domain.options)}; a group needs at '
                "least one option and each only once."
            )
            raise ValueError(message)
        masks.append(0)
        for option_id in domain.options:
            bit_of[domain.id, option_id] = next_bit
            position_of[next_bit] = position
            masks[-1] |= next_bit
            next_bit <<= 1
    group_ids = tuple(domain.id for domain in domains)
    if len(set(group_ids)) != len(group_ids):
        message = f"groups: the ids are {list(group_ids)}; each may occur only once."
        raise ValueError(message)
    return OptionBits(
        group_ids=group_ids,
        group_masks=tuple(masks),
        position_of_group={group_id: position for position, group_id in enumerate(group_ids)},
        bit_of=bit_of,
        pair_of={bit: pair for pair, bit in bit_of.items()},
        position_of=position_of,
    )


def _unknown(what: str, name: str, known: tuple[str, ...]) -> str:
    near = get_close_matches(name, known, n=1)
    hint = f' Did you mean "{near[0]}"?' if near else f" Known: {', '.join(known)}."
    return (
        f'{what} "{name}" does not exist in this problem; only known ids can be asked about.{hint}'
    )
