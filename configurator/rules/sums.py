"""A quantity over bits: its least and greatest sum within what is still possible."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.rules.options import OptionBits, bits_of
from configurator.rules.problem import Quantity

# A CP-SAT number has 63 bits; a quantity far below leaves room for its own additions.
_GREATEST_NUMBER = 2**60
_REMEMBERED_SPANS = 50_000


class Sum:
    """A quantity compiled for fast bounds. Only what differs within a group has a weight."""

    __slots__ = ("constant", "masks", "spans", "weights")

    def __init__(self, constant: int, weights: dict[int, int], masks: tuple[int, ...]) -> None:
        self.constant = constant
        self.weights = weights
        self.masks = masks
        self.spans: dict[int, tuple[int, int]] = {}

    def span(self, part: int) -> tuple[int, int]:
        """Give the least weight and the spread of weights among some options of one group."""
        span = self.spans.get(part)
        if span is None:
            weights = [self.weights[bit] for bit in bits_of(part)]
            span = (min(weights), max(weights) - min(weights))
            if len(self.spans) > _REMEMBERED_SPANS:
                self.spans.clear()
            self.spans[part] = span
        return span

    def least(self, domain: int) -> int:
        """Sum the least weight of each group."""
        return self.constant + sum(self.span(domain & mask)[0] for mask in self.masks)

    def greatest(self, domain: int) -> int:
        """Sum the greatest weight of each group."""
        return self.constant + sum(sum(self.span(domain & mask)) for mask in self.masks)

    def opposite(self) -> Sum:
        """Give the sum with every sign turned, whose least is this one's greatest."""
        weights = {bit: -weight for bit, weight in self.weights.items()}
        return Sum(-self.constant, weights, self.masks)


def sum_of(quantity: Quantity, names: OptionBits) -> Sum:
    """Compile a quantity; weights of pairs that do not exist count for nothing.

    Raises
    ------
    ValueError
        If the sum could leave the range of exact whole numbers of the solver.
    """
    weights = {bit: quantity.weights.get(pair, 0) for bit, pair in names.pair_of.items()}
    reach = abs(quantity.constant) + sum(
        max(abs(weights[bit]) for bit in bits_of(mask)) for mask in names.group_masks
    )
    if reach > _GREATEST_NUMBER:
        message = (
            f"quantity: it can reach {reach}; the engine counts exactly up to 2^60. "
            "Use a coarser unit."
        )
        raise ValueError(message)
    return sum_of_weights(quantity.constant, weights, names)


def sum_of_weights(constant: int, weights: Mapping[int, int], names: OptionBits) -> Sum:
    """Make a sum of weights by option, with what a whole group shares in its constant."""
    differing: dict[int, int] = {}
    masks = []
    for mask in names.group_masks:
        of_group = {bit: weights[bit] for bit in bits_of(mask)}
        least = min(of_group.values())
        constant += least
        if max(of_group.values()) > least:
            masks.append(mask)
            differing |= {bit: weight - least for bit, weight in of_group.items()}
    return Sum(constant, differing, tuple(masks))
