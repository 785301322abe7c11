"""How placed masses load the axles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.physics.measurement import FINITE, POSITIVE, require


@dataclass(frozen=True)
class PlacedMass:
    """A mass [kg], negative when it is taken out, and its distance behind the front axle [m]."""

    mass_kg: float
    x_m: float


@dataclass(frozen=True)
class AxleLoads:
    """What the front and the rear axle carry [kg]."""

    front_kg: float
    rear_kg: float


def axle_loads_kg(items: Sequence[PlacedMass], wheelbase_m: float) -> AxleLoads:
    """Split placed masses between the axles by moments about the front axle.

    Parameters
    ----------
    items : sequence of PlacedMass, shape (n,)
        Mass [kg], negative when taken out, and distance behind the front axle [m], negative
        ahead of it. A donor's weighed axles are two masses, at 0 and at `wheelbase_m`.
    wheelbase_m : float
        Distance between the axles [m], > 0.

    Returns
    -------
    AxleLoads
        Front and rear load [kg]; they sum to the total mass. A load is negative when the
        masses would lift that axle off the ground.

    Raises
    ------
    MeasurementError
        If `wheelbase_m` is not positive, or a mass or place is not a finite number.

    Source
    ------
    Static equilibrium about the front axle, rear = sum(m x) / wheelbase.

    Examples
    --------
    >>> axle_loads_kg([PlacedMass(mass_kg=100.0, x_m=1.2)], wheelbase_m=2.4)
    AxleLoads(front_kg=50.0, rear_kg=50.0)
    """
    masses = {f"mass_kg of item {n}": (item.mass_kg, FINITE) for n, item in enumerate(items, 1)}
    places = {f"x_m of item {n}": (item.x_m, FINITE) for n, item in enumerate(items, 1)}
    require("axle loads", {"wheelbase_m": (wheelbase_m, POSITIVE), **masses, **places})
    # fsum is exact, so the order in which masses are listed never changes a load.
    total_kg = math.fsum(item.mass_kg for item in items)
    rear_kg = math.fsum(item.mass_kg * item.x_m for item in items) / wheelbase_m
    return AxleLoads(front_kg=total_kg - rear_kg, rear_kg=rear_kg)
