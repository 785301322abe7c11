"""The compiled builds that a process keeps warm; several sessions may share them."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import RLock

from configurator.build_spec.compiled import Compiled, compile_build
from configurator.build_spec.vehicle_drive import VehicleDrive, vehicle_drive
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog

KEPT = 12
"""Compiled builds kept; the one longest unused goes first."""


class Engines:
    """Compiled builds by what they depend on; bounded, safe for threads.

    Builds of one vehicle without survey, weighed donor or discount share one engine.
    """

    def __init__(self) -> None:
        self._lock = RLock()
        self._compiled: OrderedDict[Hashable, Compiled] = OrderedDict()
        self._drives: dict[tuple[str, str], VehicleDrive] = {}

    def compiled(self, catalog: Catalog, build: BuildInput) -> Compiled:
        """Return the compiled build, made on first use.

        Raises
        ------
        ChoiceError
            If the vehicle or a surveyed part is unknown.
        CatalogError
            If a limit cannot be used.
        """
        donor = build.donor
        key = (
            catalog.sha256,
            build.vehicle,
            build.priced_on,
            donor.front_axle_kg,
            donor.rear_axle_kg,
            donor.left_side_kg,
            donor.right_side_kg,
            build.survey,
            build.discount,
        )
        with self._lock:
            if key not in self._compiled:
                drive = self._drive(catalog, build.vehicle)
                self._compiled[key] = compile_build(catalog, drive, build)
            self._compiled.move_to_end(key)
            while len(self._compiled) > KEPT:
                self._compiled.popitem(last=False)
            return self._compiled[key]

    def _drive(self, catalog: Catalog, vehicle_id: str) -> VehicleDrive:
        key = (catalog.sha256, vehicle_id)
        if key not in self._drives:
            self._drives = {k: v for k, v in self._drives.items() if k[0] == catalog.sha256}
            self._drives[key] = vehicle_drive(catalog, vehicle_id)
        return self._drives[key]
