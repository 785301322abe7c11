"""Everything that is a plain sum over the choices, in whole numbers: grams, moments, seats."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from configurator.build_spec.offer import Offer
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.group import Option
from configurator.catalog.models.vehicle import CarriedKind, PlacedItem, Vehicle
from configurator.physics.centre_of_gravity import GUESSED_HEIGHT_SIGMA_PERCENT, guessed_height_m
from configurator.rules.problem import Quantity
from configurator.units import grams, millimetres

DRIVER_KG = 75.0
"""Mass of the driver [kg]. Source: mass in running order, Regulation (EU) 2021/535; from memory."""


@dataclass(frozen=True)
class PlacedMassMm:
    """A mass [g] at a place [mm]: x behind the front axle, y to the right, z above the ground."""

    mass_g: int
    x_mm: int
    y_mm: int
    z_mm: int


@dataclass(frozen=True)
class MassSums:
    """Masses [g] and moments [g·mm] about the axles, without and with driver, people and load."""

    kerb_g: Quantity
    kerb_front_moment: Quantity
    kerb_rear_moment: Quantity
    laden_g: Quantity
    heaviest_front_moment: Quantity
    """Laden with all that presses this axle down; what would lift it stays away. So is the rear."""
    heaviest_rear_moment: Quantity
    kerb_height_moment: Quantity
    laden_height_moment: Quantity
    kerb_left_moment: Quantity
    """Twice the moment about the right wheels, so that half a track stays a whole number."""
    driver: PlacedMassMm
    wheelbase_mm: int
    track_mm: int
    donor_front_g: int
    donor_rear_g: int

    @property
    def donor_rear_share(self) -> Fraction:
        """Share of the donor's mass on its rear axle."""
        return Fraction(self.donor_rear_g, self.donor_front_g + self.donor_rear_g)

    @property
    def with_driver_g(self) -> Quantity:
        """Mass with the driver alone [g]."""
        return raised(self.kerb_g, self.driver.mass_g)

    @property
    def with_driver_rear_moment(self) -> Quantity:
        """Moment about the front axle with the driver alone [g·mm]."""
        return raised(self.kerb_rear_moment, self.driver.mass_g * self.driver.x_mm)

    @property
    def with_driver_height_moment(self) -> Quantity:
        """Moment about the ground with the driver alone [g·mm]."""
        return raised(self.kerb_height_moment, self.driver.mass_g * self.driver.z_mm)


def raised(quantity: Quantity, by: int) -> Quantity:
    """Add a whole number to a sum over the choices."""
    return Quantity(quantity.constant + by, quantity.weights)


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


def donor_height_m(vehicle: Vehicle) -> float:
    """Height of the donor's centre of gravity [m]: as stated, else guessed from its roof."""
    stated = vehicle.donor_cg_height_m
    return guessed_height_m(vehicle.height_m) if stated is None else stated.value


def donor_height_sigma_m(vehicle: Vehicle) -> float:
    """Give the standard deviation of that height [m]; wide where it is guessed."""
    stated = vehicle.donor_cg_height_m
    percent = GUESSED_HEIGHT_SIGMA_PERCENT if stated is None else stated.sigma_percent
    return donor_height_m(vehicle) * percent / 100


def donor_left_share(build: BuildInput) -> Fraction:
    """Share of the donor's mass on its left wheels: as weighed, else half."""
    left_kg, right_kg = build.donor.left_side_kg, build.donor.right_side_kg
    if left_kg is None or right_kg is None:
        return Fraction(1, 2)
    return Fraction(grams(left_kg), grams(left_kg) + grams(right_kg))


def donor_masses(vehicle: Vehicle, build: BuildInput) -> tuple[PlacedMassMm, PlacedMassMm]:
    """Place the donor's mass over its axles, at the height and side of its centre of gravity."""
    front_kg, rear_kg = donor_axles_kg(vehicle, build)
    y_mm = round(millimetres(vehicle.track_m) * (Fraction(1, 2) - donor_left_share(build)))
    z_mm = millimetres(donor_height_m(vehicle))
    return (
        PlacedMassMm(grams(front_kg), 0, y_mm, z_mm),
        PlacedMassMm(grams(rear_kg), millimetres(vehicle.wheelbase_m), y_mm, z_mm),
    )


def placed_mm(vehicle: Vehicle, item: PlacedItem) -> PlacedMassMm:
    """Put an item at its place in the vehicle."""
    place = vehicle.places[item.place]
    return PlacedMassMm(
        grams(item.mass_kg),
        millimetres(place.x_m),
        millimetres(place.y_m),
        millimetres(place.z_m),
    )


def driver_item(vehicle: Vehicle) -> PlacedItem:
    """Seat the driver."""
    return PlacedItem(what="Driver", mass_kg=DRIVER_KG, place=vehicle.driver_place, kind="people")


Lever = Callable[[PlacedMassMm], int]
"""The arm of a mass about an axle, the ground or a row of wheels [mm]; 1 for the mass itself."""


def mass_sums(offer: Offer, build: BuildInput) -> MassSums:
    """Sum masses and moments of a vehicle: donor, less what goes out, plus what goes in.

    Source
    ------
    Static equilibrium: moment about the front axle is mass times distance behind it; the moment
    about the rear axle is mass times the rest of the wheelbase; about the ground, times height.
    """
    vehicle = offer.vehicle
    wheelbase_mm, track_mm = millimetres(vehicle.wheelbase_m), millimetres(vehicle.track_m)
    donor = donor_masses(vehicle, build)
    driver = placed_mm(vehicle, driver_item(vehicle))

    def total(lever: Lever, *, laden: bool, pressing: bool = False) -> Quantity:
        def each(items: Sequence[PlacedItem]) -> list[int]:
            placed = (placed_mm(vehicle, item) for item in items)
            return [mass.mass_g * lever(mass) for mass in placed]

        def carried(items: Sequence[PlacedItem]) -> int:
            return sum(max(moment, 0) if pressing else moment for moment in each(items))

        def weigh(option: Option) -> int:
            change = sum(each(option.puts_in)) - sum(each(option.takes_out))
            return change + (carried(option.carries) if laden else 0)

        constant = sum(mass.mass_g * lever(mass) for mass in donor)
        constant += sum(each(vehicle.puts_in)) - sum(each(vehicle.takes_out))
        if laden:
            constant += carried(vehicle.carries) + driver.mass_g * lever(driver)
        return sum_over_options(offer, constant, weigh)

    def mass(_: PlacedMassMm) -> int:
        return 1

    def front(item: PlacedMassMm) -> int:
        return wheelbase_mm - item.x_mm

    def rear(item: PlacedMassMm) -> int:
        return item.x_mm

    def height(item: PlacedMassMm) -> int:
        return item.z_mm

    return MassSums(
        kerb_g=total(mass, laden=False),
        kerb_front_moment=total(front, laden=False),
        kerb_rear_moment=total(rear, laden=False),
        laden_g=total(mass, laden=True),
        heaviest_front_moment=total(front, laden=True, pressing=True),
        heaviest_rear_moment=total(rear, laden=True, pressing=True),
        kerb_height_moment=total(height, laden=False),
        laden_height_moment=total(height, laden=True),
        kerb_left_moment=total(lambda item: track_mm - 2 * item.y_mm, laden=False),
        driver=driver,
        wheelbase_mm=wheelbase_mm,
        track_mm=track_mm,
        donor_front_g=donor[0].mass_g,
        donor_rear_g=donor[1].mass_g,
    )


def carried_g(offer: Offer, kind: CarriedKind) -> Quantity:
    """Sum what is carried of one kind [g]; what is fitted of that kind, such as a rack, counts."""

    def of_kind(items: Sequence[PlacedItem]) -> int:
        return sum(grams(item.mass_kg) for item in items if item.kind == kind)

    vehicle = offer.vehicle
    return sum_over_options(
        offer,
        of_kind((*vehicle.puts_in, *vehicle.carries)),
        lambda option: of_kind((*option.puts_in, *option.carries)),
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
