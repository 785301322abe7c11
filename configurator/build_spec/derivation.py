"""How a fact came about: inputs, formula in words, intermediate values."""

from __future__ import annotations

from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.data import Data
from configurator.catalog.models.rule import FactName


class DerivationStep(Data):
    """An intermediate value, with what was done in words."""

    words: str
    value: float
    unit: str
    decimals: int = 1


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
