"""What physics computes for a vehicle, shared by every build of it."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.build_spec.drive_facts import DriveFact, Surroundings
from configurator.build_spec.fact_book import drive_facts_of
from configurator.build_spec.offer import offer_for
from configurator.catalog.models.catalog import Catalog


@dataclass(frozen=True)
class VehicleDrive:
    """A vehicle's offer with its drive facts, which remember what they have computed."""

    around: Surroundings
    facts: tuple[DriveFact, ...]


def vehicle_drive(catalog: Catalog, vehicle_id: str) -> VehicleDrive:
    """Prepare the drive facts of a vehicle."""
    around = Surroundings(catalog, offer_for(catalog, vehicle_id))
    return VehicleDrive(around, drive_facts_of(around))
