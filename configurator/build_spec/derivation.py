"""How a fact came about: inputs, formula in words, intermediate values."""

from __future__ import annotations

from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.data import Data
from configurator.catalog.models.rule import FactName

ROUNDED_WORDS = (
    "Values are rounded where they are written and nowhere before: added up by hand, the last "
    "digit may be a few off."
)
"""What stands beside every table of steps."""


class DerivationStep(Data):
    """An intermediate value, with what was done in words."""

    words: str
    value: float
    unit: str
    decimals: int = 1


class DerivationEnd(Data):
    """An end of a from–to: a build that has it, told by the choices that still matter."""

    words: str
    """Such as "Least"."""
    value: float
    choices: tuple[str, ...]
    """Group with option, of the open groups that move the fact."""


class Derivation(Data):
    """One fact, worked out so that a person with paper can follow."""

    fact: FactName
    case: str | None
    label: str
    formula: str
    """In words."""
    inputs: tuple[StatedInput, ...]
    steps: tuple[DerivationStep, ...]
    """The last one is the fact."""
    source: str
    """Of the method."""
    case_label: str = ""
    """The driving case or charging source as people read it."""
    beside: tuple[DerivationStep, ...] = ()
    """What belongs to it and is no part of the sum."""
    narrowed_by: tuple[str, ...] = ()
    """What would make it surer, the most telling first."""
    is_default: bool = False
    """While choices are open: worked out for the build in which the workshop chooses the rest."""
    ends: tuple[DerivationEnd, ...] = ()
    """While choices are open: the least and the greatest."""
