"""A vehicle of the catalog, made ready to be asked what its rules and limits do."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.engines import Engines
from configurator.build_spec.vehicle_rulebook import vehicle_rulebook
from configurator.catalog.models.build import BuildInput, Customer
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.vehicle import Vehicle
from configurator.rules.audit import engine_leaving_one_out
from configurator.rules.engine import Engine
from configurator.rules.rulebook import Rulebook


@dataclass(frozen=True)
class AuditedVehicle:
    """A vehicle with its rules and limits."""

    compiled: Compiled
    book: Rulebook

    @property
    def vehicle(self) -> Vehicle:
        """The vehicle."""
        return self.compiled.offer.vehicle

    @cached_property
    def leaving_one_out(self) -> Engine:
        """An engine that can leave any one rule or limit out of account."""
        return engine_leaving_one_out(self.book)


def audited_vehicle(catalog: Catalog, vehicle: Vehicle, engines: Engines) -> AuditedVehicle:
    """Make a vehicle ready.

    Raises
    ------
    CatalogError
        If a limit cannot be used for it.
    """
    build = BuildInput(
        reference="B-0000",
        customer=Customer(name="Nobody"),
        vehicle=vehicle.id,
        priced_on=max(vat.valid_from for vat in catalog.workshop.vat),
    )
    compiled = engines.compiled(catalog, build)
    return AuditedVehicle(compiled, vehicle_rulebook(compiled))
