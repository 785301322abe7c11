"""A complete build, ready to be asked what its drive can do: masses, grip, drive, doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.drive_state import DriveState
from configurator.build_spec.driving_inputs import RECOVERY_FRICTION
from configurator.build_spec.facts import Extent
from configurator.build_spec.performance_doubt import Compute, Doubt, doubt_of
from configurator.build_spec.performance_facts import Drive, drive_of, resistance_of
from configurator.build_spec.sums import DRIVER_KG
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.acceleration import Resistance

Extents = Mapping[tuple[FactName, str | None], Extent]

STORED_DECIMALS = 3

WET_FRICTION = RECOVERY_FRICTION
HEIGHT_SHARE = 0.38
"""Height of the centre of gravity by that of the vehicle, where it is not computed. Common
practice, no source."""


@dataclass(frozen=True)
class Stance:
    """How a vehicle with some load stands on its driven axle."""

    mass_kg: float
    driven_share: float
    height_over_wheelbase: float


@dataclass(frozen=True)
class Ability:
    """A complete build, ready to be asked what its drive can do."""

    vehicle: Vehicle
    drive: Drive
    driver: Resistance
    laden: Resistance
    trailer_kg: float
    with_driver: Stance
    fully_laden: Stance
    hill_asked_percent: float | None
    doubt: Doubt

    def sigma(self, compute: Compute, resistance: Resistance) -> float | None:
        """Tell how sure a number is, as it is stored."""
        sigma = self.doubt.sigma_of(compute, self.drive, resistance)
        return None if sigma is None else round(sigma, STORED_DECIMALS)


def ability_of(compiled: Compiled, choices: Mapping[str, str], extents: Extents) -> Ability | None:
    """Gather what a complete build moves and is moved by; None while choices or parts are open."""
    if len(choices) < len(compiled.offer.groups):
        return None
    book, vehicle = compiled.book, compiled.offer.vehicle
    drive = drive_of(book.parts_of(choices))
    away = book.drive_fact("seconds_to_50_km_h", None)
    hill = book.drive_fact("hill_restart_percent", None)
    if drive is None or away is None or hill is None:
        return None
    state: DriveState = book.state(away, choices)
    driver = resistance_of(book.around, drive, state)
    train_kg = resistance_of(book.around, drive, book.state(hill, choices)).mass_kg
    laden_g = book.masses.laden_g.of(choices)
    laden = resistance_of(book.around, drive, replace(state, mass_g=laden_g))
    return Ability(
        vehicle=vehicle,
        drive=drive,
        driver=driver,
        laden=laden,
        trailer_kg=train_kg - laden.mass_kg,
        with_driver=_with_driver(vehicle, extents),
        fully_laden=_stance(vehicle, extents, "laden_front_axle_kg", "laden_rear_axle_kg"),
        hill_asked_percent=_hill_asked(compiled),
        doubt=doubt_of(vehicle, drive),
    )


def _with_driver(vehicle: Vehicle, extents: Extents) -> Stance:
    place = vehicle.places[vehicle.driver_place]
    on_rear_kg = DRIVER_KG * place.x_m / vehicle.wheelbase_m
    driver_kg = (DRIVER_KG - on_rear_kg, on_rear_kg)
    return _stance(vehicle, extents, "kerb_front_axle_kg", "kerb_rear_axle_kg", driver_kg)


def _stance(
    vehicle: Vehicle,
    extents: Extents,
    front: FactName,
    rear: FactName,
    added_kg: tuple[float, float] = (0.0, 0.0),
) -> Stance:
    front_kg = extents[front, None].low + added_kg[0]
    rear_kg = extents[rear, None].low + added_kg[1]
    computed = extents.get(("centre_of_gravity_height_m", None))
    height_m = HEIGHT_SHARE * vehicle.height_m if computed is None else computed.low
    driven_kg = front_kg if vehicle.driven_axle == "front" else rear_kg
    mass_kg = front_kg + rear_kg
    # An axle carries nothing once the load beyond the other has lifted it.
    share = min(max(driven_kg / mass_kg, 0.0), 1.0)
    return Stance(mass_kg, share, height_m / vehicle.wheelbase_m)


def _hill_asked(compiled: Compiled) -> float | None:
    asked = [f.bound for f in compiled.limits if f.limit.limit == "hill_restart_percent"]
    return max(asked, default=None)
