"""Words put where they cover the least of what is drawn."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.drawings.shapes import Box, Words, bounds

OUTSIDE = 10
"""Words that leave the drawing are worse than ones that cover something."""


def clearest(places: Sequence[Words], within: Box, covered: Sequence[Box]) -> Words:
    """Choose the first place that covers nothing, or else the one that covers least.

    Parameters
    ----------
    places : sequence of Words
        The same words in different places, the most wanted first; at least one.
    within : Box
        Where the words should stay, from left to right.
    covered : sequence of Box
        What is drawn already.

    Returns
    -------
    Words
        One of the places.

    Examples
    --------
    >>> low, high = (Words((0.0, y), "ab", 10.0, "#000000") for y in (0.0, 50.0))
    >>> clearest([low, high], Box(0, 0, 100, 100), [Box(0, 0, 5, 5)]).at
    (0.0, 50.0)
    """

    def trouble(words: Words) -> int:
        box = bounds(words)
        is_outside = box.left < within.left or within.right < box.right
        return OUTSIDE * is_outside + sum(_overlap(box, other) for other in covered)

    return min(places, key=trouble)


def _overlap(one: Box, other: Box) -> bool:
    is_apart_across = one.right <= other.left or other.right <= one.left
    is_apart_upward = one.top <= other.bottom or other.top <= one.bottom
    return not (is_apart_across or is_apart_upward)
