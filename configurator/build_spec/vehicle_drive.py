"""What physics computes for a vehicle, shared by every build of it."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.build_spec.drive_facts import DriveFact, Surroundings
from configurator.build_spec.fact_book import drive_facts_of
from configurator.build_spec.offer import Offer
from configurator.catalog.models.catalog import Catalog


@dataclass(frozen=True)
class VehicleDrive:
    """A vehicle's offer with its drive facts, which remember what they have computed."""

    around: Surroundings
    facts: tuple[DriveFact, ...]


def vehicle_drive(catalog: Catalog, offer: Offer) -> VehicleDrive:
    """Prepare the drive facts of a vehicle."""
    around = Surroundings(catalog, offer)
    return VehicleDrive(around, drive_facts_of(around))
