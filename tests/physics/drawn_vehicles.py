"""Vehicles drawn from the doubts that are stated, evenly by Sobol points.

Source: JCGM 101, propagation of distributions; scrambled Sobol points (Owen) in place of
independent draws.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm, qmc

from configurator.physics.range_band import DOUBTS
from configurator.physics.road_vehicle import RoadVehicle

Points = NDArray[np.float64]
"""Standard normal numbers, shape (n, 9): a row for each vehicle, a column for each doubt."""


@cache
def sobol_points(power_of_two: int, seed: int) -> Points:
    """Fill the cube of all doubts evenly with 2 to this power points."""
    sobol = qmc.Sobol(d=len(DOUBTS), scramble=True, rng=np.random.default_rng(seed))
    return np.asarray(norm.ppf(sobol.random_base2(power_of_two)), dtype=np.float64)


def drawn_vehicles(vehicle: RoadVehicle, points: Points) -> list[RoadVehicle]:
    """Move each input by its doubt: the mass by a normal law, the others by lognormal ones."""
    correlation = vehicle.drag_rolling_correlation
    mass, drag, free, drive, back, idle, power, heat, energy = points.T
    rolling = correlation * drag + np.sqrt(1 - correlation**2) * free
    moved = {
        "drag_area_m2": (drag, vehicle.drag_area_sigma_percent),
        "rolling_resistance": (rolling, vehicle.rolling_resistance_sigma_percent),
        "drive_efficiency": (drive, vehicle.drive_efficiency_sigma_percent),
        "recovery_efficiency": (back, vehicle.recovery_efficiency_sigma_percent),
        "no_load_loss_w": (idle, vehicle.no_load_loss_sigma_percent),
        "auxiliary_power_w": (power, vehicle.auxiliary_power_sigma_percent),
        "cabin_heat_loss_w_per_k": (heat, vehicle.cabin_heat_loss_sigma_percent),
        "usable_energy_wh": (energy, vehicle.usable_energy_sigma_percent),
    }
    drawn = {
        name: getattr(vehicle, name) * np.exp(by * sigma_percent / 100)
        for name, (by, sigma_percent) in moved.items()
    }
    for name in ("drive_efficiency", "recovery_efficiency"):
        drawn[name] = np.minimum(drawn[name], 1.0)
    drawn["mass_kg"] = vehicle.mass_kg + mass * vehicle.mass_sigma_kg
    return [
        replace(vehicle, **dict(zip(drawn, values, strict=True)))
        for values in zip(*(column.tolist() for column in drawn.values()), strict=True)
    ]
