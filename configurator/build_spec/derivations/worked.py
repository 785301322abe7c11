"""What a derivation starts from, and what each kind of derivation gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.build_spec.weight_as_weighed import book_as_weighed
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.component import Component
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.group import Option
from configurator.catalog.models.vehicle import Vehicle
from configurator.units import pounds

FIRST_PRINCIPLES = "first principles"


@dataclass(frozen=True)
class Question:
    """A complete build of which facts are to be worked out."""

    compiled: Compiled
    build: BuildInput
    choices: Mapping[str, str]

    @property
    def vehicle(self) -> Vehicle:
        """The vehicle as the catalog has it."""
        return self.compiled.offer.vehicle

    @property
    def options(self) -> tuple[Option, ...]:
        """The options chosen."""
        return self.compiled.offer.options_of(self.choices)

    @property
    def weighed(self) -> FactBook | None:
        """The facts that start from the finished vehicle's weighed axles; None until it is."""
        return book_as_weighed(self.compiled, self.choices, self.build)

    @property
    def book(self) -> FactBook:
        """The facts about weights, from the weighed axles once there are any."""
        return self.weighed or self.compiled.book

    @property
    def parts(self) -> Parts:
        """The components fitted."""
        return self.compiled.book.parts_of(self.choices)


@dataclass(frozen=True)
class Worked:
    """A derivation before it has its name."""

    formula: str
    source: str
    inputs: tuple[StatedInput, ...]
    steps: tuple[DerivationStep, ...]
    beside: tuple[DerivationStep, ...] = ()
    narrowed_by: tuple[str, ...] = ()


def step(words: str, value: float, unit: str, decimals: int = 1) -> DerivationStep:
    """Tell an intermediate value."""
    return DerivationStep(words=words, value=value, unit=unit, decimals=decimals)


def money_step(words: str, amount_pence: int) -> DerivationStep:
    """Tell an amount of money."""
    return step(words, float(pounds(amount_pence)), "GBP", 2)


def of_vehicle(
    vehicle: Vehicle, name: str, label: str, value: float, unit: str, *, sigma: float = 0.0
) -> StatedInput:
    """State a value of the vehicle."""
    return StatedInput(
        id=name,
        label=label,
        value=value,
        unit=unit,
        sigma=sigma,
        source=source_words(vehicle.source),
    )


def of_component(
    part: Component, name: str, label: str, value: float, unit: str, *, sigma: float = 0.0
) -> StatedInput:
    """State a value of a component."""
    return StatedInput(
        id=name,
        label=f"{part.label}: {label}",
        value=value,
        unit=unit,
        sigma=sigma,
        source=source_words(part.source),
    )


def of_uncertain(name: str, label: str, stated: UncertainValue, unit: str) -> StatedInput:
    """State a value that the catalog gives with its doubt."""
    return StatedInput(
        id=name,
        label=label,
        value=stated.value,
        unit=unit,
        sigma=stated.value * stated.sigma_percent / 100,
        basis=stated.basis,
        source=source_words(stated.source),
    )


def by_practice(name: str, label: str, value: float, unit: str, source: str) -> StatedInput:
    """State a value that the tool sets."""
    return StatedInput(id=name, label=label, value=value, unit=unit, source=source)
