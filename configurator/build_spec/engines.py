"""The compiled builds that a process keeps warm; several sessions may share them."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import RLock

from configurator.build_spec.compiled import Compiled, compile_build
from configurator.build_spec.measured_vehicle import as_measured, as_weighed, was_measured
from configurator.build_spec.offer import Offer, offer_for
from configurator.build_spec.settle import settle
from configurator.build_spec.vehicle_drive import VehicleDrive, vehicle_drive
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog

KEPT = 12
"""Compiled builds kept; the one longest unused goes first."""

DRIVES_KEPT = 12
"""Vehicles, as in the catalog or as measured, whose computed facts are kept."""


class Engines:
    """Compiled builds by what they depend on; bounded, safe for threads.

    Builds of one vehicle without survey, measurements or discount share one engine.
    """

    def __init__(self) -> None:
        self._lock = RLock()
        self._compiled: OrderedDict[Hashable, Compiled] = OrderedDict()
        self._offers: dict[tuple[str, str], Offer] = {}
        self._drives: dict[tuple[str, str, Hashable], VehicleDrive] = {}

    def compiled(self, catalog: Catalog, build: BuildInput) -> Compiled:
        """Return the compiled build, made on first use.

        Raises
        ------
        ChoiceError
            If the vehicle or a surveyed part is unknown.
        CatalogError
            If a limit cannot be used.
        MeasurementError
            If a coast-down cannot be fitted.
        """
        with self._lock:
            offer = as_weighed(self._offer(catalog, build.vehicle), build)
            compiled = self._of_offer(catalog, offer, build)
            if not was_measured(build):
                return compiled
            choices = settle(compiled, build).choices
            return self._of_offer(catalog, as_measured(catalog, offer, build, choices), build)

    def _offer(self, catalog: Catalog, vehicle_id: str) -> Offer:
        key = (catalog.sha256, vehicle_id)
        if key not in self._offers:
            self._offers = {k: v for k, v in self._offers.items() if k[0] == catalog.sha256}
            self._offers[key] = offer_for(catalog, vehicle_id)
        return self._offers[key]

    def _of_offer(self, catalog: Catalog, offer: Offer, build: BuildInput) -> Compiled:
        donor = build.donor
        key = (
            catalog.sha256,
            build.vehicle,
            _measured_on(offer),
            build.priced_on,
            donor.front_axle_kg,
            donor.rear_axle_kg,
            donor.left_side_kg,
            donor.right_side_kg,
            build.survey,
            build.discount,
        )
        if key not in self._compiled:
            self._compiled[key] = compile_build(catalog, self._drive(catalog, offer), build)
        self._compiled.move_to_end(key)
        while len(self._compiled) > KEPT:
            self._compiled.popitem(last=False)
        return self._compiled[key]

    def _drive(self, catalog: Catalog, offer: Offer) -> VehicleDrive:
        key = (catalog.sha256, offer.vehicle.id, _measured_on(offer))
        if key not in self._drives:
            kept = {k: v for k, v in self._drives.items() if k[0] == catalog.sha256}
            self._drives = dict(list(kept.items())[-DRIVES_KEPT:])
            self._drives[key] = vehicle_drive(catalog, offer)
        return self._drives[key]


def _measured_on(offer: Offer) -> Hashable:
    """Give what measurements may have put in place of the catalog's values."""
    vehicle = offer.vehicle
    return (
        vehicle.mass_sigma_kg,
        vehicle.drag_area_m2,
        vehicle.measured_road_load,
        vehicle.measured_capacity_kwh,
    )
