"""Builds nearest to what was picked or preferred."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.rules.options import OptionBits, bits_of
from configurator.rules.sums import Sum


def departures(names: OptionBits, wanted: Mapping[str, str]) -> Sum:
    """Count the groups that do not take the wanted option."""
    weights: dict[int, int] = {}
    masks = []
    for group, option in wanted.items():
        bit = names.bit(group, option)
        mask = names.group_masks[names.position(group)]
        if mask != bit:
            masks.append(mask)
            weights |= {each: int(each != bit) for each in bits_of(mask)}
    return Sum(0, weights, tuple(masks))
