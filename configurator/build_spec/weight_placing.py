"""Load placed where it usually goes: the seats first, then the load place; what that allows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.catalog.models.vehicle import PlacedItem, Vehicle


@dataclass(frozen=True)
class Placing:
    """A mass [kg] at a place: x [m] behind the front axle."""

    label: str
    mass_kg: float
    x_m: float


@dataclass(frozen=True)
class Room:
    """What is left of a limit, and how much of it a kilogram at a place takes."""

    limited_by: str
    spare_kg: float
    sigma_kg: float
    at_front: float
    at_rear: float
    """The kilogram's share on the front and rear axle that counts; both 1 for the gross mass."""

    def taken_by(self, x_m: float, wheelbase_m: float) -> float:
        """Tell what a kilogram at a place takes of it; below 0 where it lifts the axle."""
        behind = x_m / wheelbase_m
        return self.at_front * (1 - behind) + self.at_rear * behind


@dataclass(frozen=True)
class Allowed:
    """What may be carried [kg], its standard deviation, and the limit that is met first."""

    mass_kg: float
    sigma_kg: float
    limited_by: str


def load_place(vehicle: Vehicle, carried: Sequence[PlacedItem]) -> str:
    """Find where load goes: the place of the heaviest load stated, else the driver's.

    Returns
    -------
    str
        The place's id.
    """
    loads = [item for item in carried if item.kind == "load"]
    heaviest = max(loads, key=lambda item: item.mass_kg, default=None)
    return vehicle.driver_place if heaviest is None else heaviest.place


def placed_load(
    vehicle: Vehicle, carried: Sequence[PlacedItem], load_kg: float
) -> tuple[Placing, ...]:
    """Place a load of which only the mass is known.

    Parameters
    ----------
    vehicle : Vehicle
        With its places.
    carried : sequence of PlacedItem
        What the laden build carries: its people tell the seats, its load the load place.
    load_kg : float
        People and things besides the driver [kg].

    Returns
    -------
    tuple of Placing
        The seats first, each with the mass of a person, then the load place; together `load_kg`.
    """
    placed, left_kg = [], load_kg
    for room_kg, place in _order(vehicle, carried):
        mass_kg = min(room_kg, left_kg)
        if mass_kg > 0:
            spot = vehicle.places[place]
            placed.append(Placing(spot.label, mass_kg, spot.x_m))
        left_kg -= mass_kg
    return tuple(placed)


def most_placed(vehicle: Vehicle, carried: Sequence[PlacedItem], rooms: Sequence[Room]) -> Allowed:
    """Tell how much may be carried until the first limit is met, placed as by `placed_load`.

    Parameters
    ----------
    vehicle, carried
        As for `placed_load`.
    rooms : sequence of Room
        Every limit, with what the driver alone leaves of it.

    Returns
    -------
    Allowed
        0 where a limit is already exceeded.
    """
    left = [room.spare_kg for room in rooms]
    loaded_kg = 0.0
    for room_kg, place in _order(vehicle, carried):
        x_m = vehicle.places[place].x_m
        taken = [room.taken_by(x_m, vehicle.wheelbase_m) for room in rooms]
        fits = [
            (max(spare, 0.0) / rate, room.sigma_kg / rate, room.limited_by)
            for spare, rate, room in zip(left, taken, rooms, strict=True)
            if rate > 0
        ]
        most_kg, sigma_kg, limited_by = min(fits)
        if most_kg <= room_kg:
            return Allowed(loaded_kg + most_kg, sigma_kg, limited_by)
        loaded_kg += room_kg
        left = [spare - rate * room_kg for spare, rate in zip(left, taken, strict=True)]
    msg = "the load place takes any mass, so that a limit is always met"
    raise AssertionError(msg)


def _order(vehicle: Vehicle, carried: Sequence[PlacedItem]) -> Iterator[tuple[float, str]]:
    """List what each place takes [kg], in the order in which they are filled."""
    for item in carried:
        if item.kind == "people":
            yield item.mass_kg, item.place
    yield float("inf"), load_place(vehicle, carried)
