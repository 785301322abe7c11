"""Facts that are sums over the choices, or a bound that depends on a component less such a sum."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from configurator.build_spec.drive_facts import Surroundings
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.sums import DRIVER_KG, MassSums
from configurator.catalog.models.component import Converter, Slot, Tyre, Wheel
from configurator.catalog.models.rule import FactName
from configurator.physics.axle_limit import AxleLimit, axle_limit_kg
from configurator.rules.problem import Quantity


@dataclass(frozen=True)
class SumFact:
    """`offset` plus `sign` times a whole-number sum divided by `per_unit`."""

    name: FactName
    quantity: Quantity
    per_unit: int
    offset: float = 0.0
    sign: int = 1

    def value(self, total: int) -> float:
        """Turn the sum into the fact.

        Examples
        --------
        >>> SumFact("kerb_mass_kg", Quantity(0, {}), 1000).value(1_234_500)
        1234.5
        """
        return self.offset + self.sign * total / self.per_unit


@dataclass(frozen=True)
class MarginFact:
    """What is left of a bound that depends on the components, after a whole-number sum."""

    name: FactName
    slots: frozenset[Slot]
    quantity: Quantity
    per_unit: int
    bound: Callable[[Parts], float | None]

    def value(self, parts: Parts, total: int) -> float | None:
        """Tell the margin; None where the component that sets the bound is missing."""
        bound = self.bound(parts)
        return None if bound is None else bound - total / self.per_unit


def mass_facts(around: Surroundings, masses: MassSums) -> list[SumFact]:
    """Masses and axle loads [kg]."""
    gram, moment = 1000, 1000 * masses.wheelbase_mm
    payload_offset = around.offer.vehicle.gross_mass_limit_kg - DRIVER_KG
    return [
        SumFact("kerb_mass_kg", masses.kerb_g, gram),
        SumFact("kerb_front_axle_kg", masses.kerb_front_moment, moment),
        SumFact("kerb_rear_axle_kg", masses.kerb_rear_moment, moment),
        SumFact("laden_mass_kg", masses.laden_g, gram),
        SumFact("laden_front_axle_kg", masses.heaviest_front_moment, moment),
        SumFact("laden_rear_axle_kg", masses.heaviest_rear_moment, moment),
        SumFact("payload_kg", masses.kerb_g, gram, offset=payload_offset, sign=-1),
    ]


def axle_margins(around: Surroundings, masses: MassSums) -> list[MarginFact]:
    """Margins of the laden axles under the least of axle limit, tyres and wheels [kg]."""
    moment = 1000 * masses.wheelbase_mm
    vehicle = around.offer.vehicle
    return [
        MarginFact(
            "front_axle_margin_kg",
            frozenset({"tyre", "wheel"}),
            masses.heaviest_front_moment,
            moment,
            lambda parts: least_axle_limit(vehicle.front_axle_limit_kg, parts).limit_kg,
        ),
        MarginFact(
            "rear_axle_margin_kg",
            frozenset({"tyre", "wheel"}),
            masses.heaviest_rear_moment,
            moment,
            lambda parts: least_axle_limit(vehicle.rear_axle_limit_kg, parts).limit_kg,
        ),
    ]


def low_voltage_margin(load_milliwatts: Quantity) -> MarginFact:
    """Margin of the converter's rating over the 12 V load [W]."""
    return MarginFact(
        "low_voltage_margin_w",
        frozenset({"converter"}),
        load_milliwatts,
        1000,
        lambda parts: c.rating_w if (c := parts.get("converter", Converter)) else None,
    )


def least_axle_limit(maker_limit_kg: float, parts: Parts) -> AxleLimit:
    """Find the least of axle limit, two tyres and two wheels, of what is fitted [kg]."""
    tyre, wheel = parts.get("tyre", Tyre), parts.get("wheel", Wheel)
    # Where no wheel is named, twice the axle's own limit never bounds below it.
    wheel_kg = wheel.rating_kg if wheel else maker_limit_kg
    if tyre is not None:
        return axle_limit_kg(maker_limit_kg, tyre.load_index, wheel_kg)
    return AxleLimit(
        min(maker_limit_kg, 2 * wheel_kg), "wheel" if 2 * wheel_kg < maker_limit_kg else "axle"
    )
