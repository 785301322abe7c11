"""All facts of a build, by kind, with how each is computed from complete choices."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property

from configurator.build_spec.drive_facts import (
    DriveFact,
    Surroundings,
    electrical_facts,
)
from configurator.build_spec.drive_state import (
    NO_EFFECT,
    DriveState,
    Parts,
    drive_state,
    slots_filled,
)
from configurator.build_spec.electrical_facts import electrical_set_facts
from configurator.build_spec.offer import Offer
from configurator.build_spec.performance_facts import performance_facts
from configurator.build_spec.price_lines import PriceBasis, price_pence
from configurator.build_spec.range_facts import range_facts
from configurator.build_spec.ratio_facts import RatioFact, ratio_facts
from configurator.build_spec.slot_classes import (
    Dependence,
    Region,
    dependence,
    slot_regions,
    typical_options,
    whole_components,
)
from configurator.build_spec.sum_facts import (
    MarginFact,
    SumFact,
    axle_margins,
    low_voltage_margin,
    mass_facts,
)
from configurator.build_spec.sums import (
    DRIVER_KG,
    MassSums,
    carried_g,
    low_voltage_milliwatts,
    seats,
    with_trailer,
)
from configurator.build_spec.work_plan import WorkPlan
from configurator.catalog.models.component import Slot
from configurator.catalog.models.rule import FactName
from configurator.rules.problem import Quantity
from configurator.units import grams

NO_MASS = Quantity(0, {})


@dataclass(frozen=True)
class FactBook:
    """The facts of one build."""

    offer: Offer
    around: Surroundings
    masses: MassSums
    price: Quantity
    plan: WorkPlan
    drive_facts: tuple[DriveFact, ...]

    @cached_property
    def sum_facts(self) -> tuple[SumFact, ...]:
        """Facts that are plain sums."""
        return (
            SumFact("price_gbp", self.price, 100),
            *mass_facts(self.around, self.masses),
            SumFact("roof_load_kg", carried_g(self.offer, "roof-load"), 1000),
            SumFact("nose_weight_kg", carried_g(self.offer, "nose-weight"), 1000),
            SumFact("seats", seats(self.offer), 1),
            SumFact("workshop_hours", self.plan.hours, 10),
        )

    @cached_property
    def margin_facts(self) -> tuple[MarginFact, ...]:
        """Facts that are a component's bound less a sum."""
        return (
            *axle_margins(self.around, self.masses),
            low_voltage_margin(low_voltage_milliwatts(self.offer)),
        )

    @cached_property
    def ratio_facts(self) -> tuple[RatioFact, ...]:
        """Facts that are ratios of two sums."""
        return ratio_facts(self.masses)

    @cached_property
    def _mass_by_kind(self) -> dict[str, Quantity]:
        kerb = self.masses.kerb_g
        return {
            "": NO_MASS,
            "driver": Quantity(kerb.constant + grams(DRIVER_KG), kerb.weights),
            "laden": self.masses.laden_g,
            "train": with_trailer(self.offer, self.masses.laden_g),
        }

    def mass_of(self, fact: DriveFact) -> Quantity:
        """Return the mass that a drive fact reads [g]."""
        return self._mass_by_kind[fact.mass]

    def sum_fact(self, name: FactName) -> SumFact | None:
        """Find a sum fact by name."""
        return next((fact for fact in self.sum_facts if fact.name == name), None)

    def ratio_fact(self, name: FactName) -> RatioFact | None:
        """Find a ratio fact by name."""
        return next((fact for fact in self.ratio_facts if fact.name == name), None)

    def margin_fact(self, name: FactName) -> MarginFact | None:
        """Find a margin fact by name."""
        return next((fact for fact in self.margin_facts if fact.name == name), None)

    def drive_fact(self, name: FactName, case: str | None) -> DriveFact | None:
        """Find a drive fact by name and case."""
        return next((f for f in self.drive_facts if f.name == name and f.case == case), None)

    def slot_regions(
        self, slots: Collection[Slot], allowed: Mapping[str, frozenset[str]]
    ) -> list[Region]:
        """Split the builds by the components that they fit in some slots."""
        return list(slot_regions(whole_components(self.offer, slots), allowed))

    def dependence(self, fact: DriveFact) -> Dependence:
        """Find the groups that a drive fact depends on."""
        key = (fact.name, fact.case)
        if key not in self._dependences:
            components = self.around.catalog.component_by_id
            self._dependences[key] = dependence(self.offer, fact, components)
        return self._dependences[key]

    @cached_property
    def _dependences(self) -> dict[tuple[FactName, str | None], Dependence]:
        return {}

    def parts_of(self, choices: Mapping[str, str]) -> Parts:
        """Look up the components that some choices fit."""
        filled = slots_filled(self.offer, self.offer.options_of(choices))
        return self.around.parts(DriveState(filled, NO_EFFECT, 0))

    def parts_in(self, region: Region) -> Parts:
        """Look up the components that every build of a slot region has."""
        return self.around.parts(self.state_in(region))

    def state_in(self, region: Region) -> DriveState:
        """Read from a slot region what a fact needs that no mass and no effect moves."""
        filled = slots_filled(self.offer, typical_options(self.offer, region))
        return DriveState(filled, NO_EFFECT, 0)

    def state(self, fact: DriveFact, choices: Mapping[str, str]) -> DriveState:
        """Read the state of complete choices that a drive fact needs."""
        return drive_state(self.offer.reading(fact.effects), choices, self.mass_of(fact))


def drive_facts_of(around: Surroundings) -> tuple[DriveFact, ...]:
    """List every fact that physics computes for a vehicle; they remember what they computed."""
    return (
        *range_facts(around),
        *performance_facts(around),
        *electrical_facts(around),
        *electrical_set_facts(around),
    )


def fact_book(
    around: Surroundings,
    drive_facts: tuple[DriveFact, ...],
    masses: MassSums,
    basis: PriceBasis,
    plan: WorkPlan,
) -> FactBook:
    """Assemble the facts of a build."""
    return FactBook(
        around.offer, around, masses, price_pence(around.offer, basis), plan, drive_facts
    )
