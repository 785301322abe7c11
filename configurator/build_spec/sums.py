"""Everything that is a plain sum over the choices, in whole numbers: grams, moments, seats."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from configurator.build_spec.offer import Offer
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.group import Option
from configurator.catalog.models.vehicle import PlacedItem, Vehicle
from configurator.rules.problem import Quantity
from configurator.units import grams, millimetres

DRIVER_KG = 75.0
"""Mass of the driver [kg]. Source: mass in running order, Regulation (EU) 2021/535; from memory."""


@dataclass(frozen=True)
class MassSums:
    """Masses [g] and moments [g·mm] about the axles, without and with driver, people and load."""

    kerb_g: Quantity
    kerb_front_moment: Quantity
    kerb_rear_moment: Quantity
    laden_g: Quantity
    laden_front_moment: Quantity
    laden_rear_moment: Quantity
    wheelbase_mm: int
    donor_front_g: int
    donor_rear_g: int

    @property
    def donor_rear_share(self) -> Fraction:
        """Share of the donor's mass on its rear axle."""
        return Fraction(self.donor_rear_g, self.donor_front_g + self.donor_rear_g)


def sum_over_options(offer: Offer, constant: int, weigh: Callable[[Option], int]) -> Quantity:
    """Sum a whole number over the options chosen.

    Parameters
    ----------
    offer : Offer
        What the vehicle is offered.
    constant : int
        What every build has.
    weigh : callable
        The whole number of one option.
    """
    weights = {
        (group.id, option.id): weight
        for group, option in offer.pairs()
        if (weight := weigh(option)) != 0
    }
    return Quantity(constant, weights)


def donor_axles_kg(vehicle: Vehicle, build: BuildInput) -> tuple[float, float]:
    """Front and rear axle load of the donor [kg]: as weighed, else the catalog's."""
    donor = build.donor
    if donor.front_axle_kg is not None and donor.rear_axle_kg is not None:
        return donor.front_axle_kg, donor.rear_axle_kg
    return vehicle.donor_front_axle_kg, vehicle.donor_rear_axle_kg


def mass_sums(offer: Offer, build: BuildInput) -> MassSums:
    """Sum masses and moments of a vehicle: donor, less what goes out, plus what goes in.

    Source
    ------
    Static equilibrium: moment about the front axle is mass times distance behind it; the moment
    about the rear axle is mass times the rest of the wheelbase.
    """
    vehicle = offer.vehicle
    wheelbase_mm = millimetres(vehicle.wheelbase_m)
    front_kg, rear_kg = donor_axles_kg(vehicle, build)

    def total(x_weight: Callable[[int], int], *, laden: bool) -> Quantity:
        def signed(items: Sequence[PlacedItem]) -> int:
            return sum(
                grams(item.mass_kg) * x_weight(millimetres(vehicle.places[item.place].x_m))
                for item in items
            )

        def weigh(option: Option) -> int:
            change = signed(option.puts_in) - signed(option.takes_out)
            return change + (signed(option.carries) if laden else 0)

        donor = grams(front_kg) * x_weight(0) + grams(rear_kg) * x_weight(wheelbase_mm)
        constant = donor + signed(vehicle.puts_in) - signed(vehicle.takes_out)
        if laden:
            driver_x_mm = millimetres(vehicle.places[vehicle.driver_place].x_m)
            constant += signed(vehicle.carries) + grams(DRIVER_KG) * x_weight(driver_x_mm)
        return sum_over_options(offer, constant, weigh)

    return MassSums(
        kerb_g=total(lambda _: 1, laden=False),
        kerb_front_moment=total(lambda x_mm: wheelbase_mm - x_mm, laden=False),
        kerb_rear_moment=total(lambda x_mm: x_mm, laden=False),
        laden_g=total(lambda _: 1, laden=True),
        laden_front_moment=total(lambda x_mm: wheelbase_mm - x_mm, laden=True),
        laden_rear_moment=total(lambda x_mm: x_mm, laden=True),
        wheelbase_mm=wheelbase_mm,
        donor_front_g=grams(front_kg),
        donor_rear_g=grams(rear_kg),
    )


def with_trailer(offer: Offer, laden_g: Quantity) -> Quantity:
    """Add the heaviest trailer that the options allow for to the laden mass [g]."""
    trailer = sum_over_options(
        offer, laden_g.constant, lambda option: grams(option.effects.trailer_kg)
    )
    pairs = trailer.weights.keys() | laden_g.weights.keys()
    return Quantity(
        laden_g.constant,
        {pair: trailer.weights.get(pair, 0) + laden_g.weights.get(pair, 0) for pair in pairs},
    )


def low_voltage_milliwatts(offer: Offer) -> Quantity:
    """Sum the load of the 12 V circuits [mW]."""
    return sum_over_options(
        offer,
        round(offer.vehicle.base_low_voltage_load_w * 1000),
        lambda option: round(option.effects.low_voltage_load_w * 1000),
    )


def seats(offer: Offer) -> Quantity:
    """Count the seats, the driver's among them."""
    return sum_over_options(offer, 1, lambda option: option.seats)


def hours_of(work_hours: Sequence[Decimal]) -> Decimal:
    """Sum working hours; none is 0."""
    return sum(work_hours, Decimal(0))
