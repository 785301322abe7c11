"""What is said of a number that cannot be."""

from __future__ import annotations

from typing import NamedTuple


class Bounds(NamedTuple):
    """The least and the greatest that a number may be."""

    least: float
    greatest: float
    unit: str = ""


def out_of_bounds(typed: float | None, bounds: Bounds) -> str:
    """Say what can be where a number cannot; empty where it can, or nothing was typed.

    Examples
    --------
    >>> out_of_bounds(-50, Bounds(0, 2000, "kg"))
    'It is −50 kg; 0 to 2,000 kg can be. Nothing is computed from it.'
    >>> out_of_bounds(50, Bounds(0, 2000, "kg")), out_of_bounds(None, Bounds(0, 1))
    ('', '')
    """
    if typed is None or bounds.least <= typed <= bounds.greatest:
        return ""
    found = f"{typed:,.10g} {bounds.unit}".strip()
    possible = f"{bounds.least:,.10g} to {bounds.greatest:,.10g} {bounds.unit}".strip()
    return f"It is {found}; {possible} can be. Nothing is computed from it.".replace("-", "−")
