"""How quickly a drive brings a vehicle to a speed, through its gears."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
import numpy.typing as npt

from configurator.physics.measurement import EFFICIENCY, NOT_NEGATIVE, POSITIVE, require
from configurator.units import KM_H_PER_M_S, STANDARD_GRAVITY_M_S2

MASS_FACTOR = 1.05
"""Mass to accelerate by mass to carry, with a motor geared for high speed; handbook value, from
memory, on the safe side."""

LONGEST_S = 600.0
"""Stands for a speed that is hardly or never reached [s]."""

_NODES = 24
_HUNDRED_KM_H = 100 / KM_H_PER_M_S

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Pull:
    """What a drive gives at the wheels: constant torque to its base speed, then constant power."""

    peak_torque_nm: float
    """Of the motor [N m], > 0."""
    peak_power_kw: float
    """At the motor's shaft [kW], > 0: the least of what motor and battery give."""
    max_speed_rpm: float
    """Of the motor [1/min], > 0."""
    overall_ratios: tuple[float, ...]
    """Turns of the motor for one of the wheel, each > 0."""
    gear_efficiency: float
    """Of the reduction, > 0, at most 1."""
    rolling_radius_m: float
    """Of the driven wheels [m], > 0."""

    @property
    def geared_m_s(self) -> float:
        """Road speed at the motor's greatest speed in the longest gear [m/s]."""
        return self.gear_limit_m_s(min(self.overall_ratios))

    def gear_limit_m_s(self, ratio: float) -> float:
        """Road speed at the motor's greatest speed in one gear [m/s]."""
        return 2 * math.pi * self.rolling_radius_m * self.max_speed_rpm / 60 / ratio


@dataclass(frozen=True, kw_only=True)
class Resistance:
    """What holds a vehicle back on the level."""

    mass_kg: float
    """With everybody and everything in it [kg], > 0."""
    drag_area_m2: float
    """Drag coefficient times frontal area [m²], > 0."""
    rolling_resistance: float
    """By weight at low speed, >= 0."""
    rolling_growth: float = 0.0
    """How much of itself it gains up to 100 km/h, with the square of the speed, >= 0."""
    air_density_kg_m3: float
    """[kg/m³], > 0."""

    def force_n(self, speed_m_s: Floats) -> Floats:
        """Tell the resistance at each speed [N]."""
        rolling = self.rolling_resistance * (
            1 + self.rolling_growth * (speed_m_s / _HUNDRED_KM_H) ** 2
        )
        drag_n: Floats = 0.5 * self.air_density_kg_m3 * self.drag_area_m2 * speed_m_s**2
        return self.mass_kg * STANDARD_GRAVITY_M_S2 * rolling + drag_n


def wheel_force_n(pull: Pull, speed_m_s: Floats) -> Floats:
    """Find the greatest force at the wheels at each speed, in the best gear.

    Parameters
    ----------
    pull : Pull
        The drive.
    speed_m_s : array, shape (n,)
        Road speed [m/s], > 0.

    Returns
    -------
    array, shape (n,)
        Force [N]; 0 beyond the motor's greatest speed in the longest gear.

    Source
    ------
    First principles: force = least of torque x ratio / radius and power / speed, times efficiency.

    Examples
    --------
    >>> pull = Pull(peak_torque_nm=200.0, peak_power_kw=60.0, max_speed_rpm=9000.0,
    ...     overall_ratios=(9.0,), gear_efficiency=0.95, rolling_radius_m=0.3)
    >>> wheel_force_n(pull, np.array([5.0, 20.0, 40.0])).tolist()
    [5700.0, 2850.0, 0.0]
    """
    by_power = 1000 * pull.peak_power_kw / speed_m_s
    best = np.zeros_like(speed_m_s)
    for ratio in pull.overall_ratios:
        by_torque = pull.peak_torque_nm * ratio / pull.rolling_radius_m
        force = np.where(
            speed_m_s <= pull.gear_limit_m_s(ratio), np.minimum(by_torque, by_power), 0.0
        )
        best = np.maximum(best, force)
    return np.asarray(pull.gear_efficiency * best)


def seconds_to_speed(
    pull: Pull, resistance: Resistance, speed_km_h: float, grip_n: float | None = None
) -> float | None:
    """Compute the time from rest to a speed on the level, without wind.

    The time that a change of gear takes is not counted, and neither is the driver's.

    Parameters
    ----------
    pull : Pull
        The drive.
    resistance : Resistance
        What holds the vehicle back.
    speed_km_h : float
        Speed to reach [km/h], > 0.
    grip_n : float, optional
        Greatest force the driven tyres bring to the road [N], > 0; left out, the drive alone is
        asked, and the time then never falls with mass, drag or rolling resistance.

    Returns
    -------
    float or None
        Time [s], at most `LONGEST_S`, which stands for hardly or never; None where the gearing
        doesn't allow the speed.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Newton's second law, t = integral of k m dv / (F - R), by Gauss-Legendre quadrature between the
    corners of the force; its weights are positive, so that what holds at each speed holds in all.

    Examples
    --------
    >>> pull = Pull(peak_torque_nm=200.0, peak_power_kw=60.0, max_speed_rpm=9000.0,
    ...     overall_ratios=(9.0,), gear_efficiency=0.95, rolling_radius_m=0.3)
    >>> van = Resistance(mass_kg=1800.0, drag_area_m2=1.7, rolling_resistance=0.013,
    ...     air_density_kg_m3=1.225)
    >>> round(seconds_to_speed(pull, van, 50.0), 2), seconds_to_speed(pull, van, 150.0)
    (5.15, None)
    """
    _require(pull, resistance, speed_km_h, grip_n)
    speed_m_s = speed_km_h / KM_H_PER_M_S
    if speed_m_s > pull.geared_m_s:
        return None
    speeds, weights, forces = _samples(pull, speed_m_s, grip_n)
    spare_n = forces - resistance.force_n(speeds)
    if np.any(spare_n <= 0):
        return LONGEST_S
    seconds = MASS_FACTOR * resistance.mass_kg * float(np.sum(weights / spare_n))
    return min(seconds, LONGEST_S)


@lru_cache(maxsize=256)
def _samples(pull: Pull, speed_m_s: float, grip_n: float | None) -> tuple[Floats, Floats, Floats]:
    """Take speeds, their weights and the forces there; they depend on the drive and the grip."""
    corners = np.array(sorted({0.0, speed_m_s, *_corners(pull, speed_m_s, grip_n)}))
    nodes, node_weights = _gauss_legendre()
    half = np.diff(corners)[:, None] / 2
    speeds = (corners[:-1, None] + half * (1 + nodes)).ravel()
    forces = wheel_force_n(pull, speeds)
    if grip_n is not None:
        forces = np.minimum(forces, grip_n)
    return speeds, (half * node_weights).ravel(), forces


def _corners(pull: Pull, speed_m_s: float, grip_n: float | None) -> list[float]:
    """List the speeds where the force turns: base speed and end of each gear, end of the slip."""
    power_w = 1000 * pull.peak_power_kw
    found = [pull.gear_limit_m_s(ratio) for ratio in pull.overall_ratios]
    found += [
        power_w * pull.rolling_radius_m / pull.peak_torque_nm / ratio
        for ratio in pull.overall_ratios
    ]
    if grip_n is not None:
        found.append(power_w * pull.gear_efficiency / grip_n)
    return [corner for corner in found if 0 < corner < speed_m_s]


@cache
def _gauss_legendre() -> tuple[Floats, Floats]:
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    return nodes, weights


def _require(pull: Pull, resistance: Resistance, speed_km_h: float, grip_n: float | None) -> None:
    ratios = {f"overall_ratios[{n}]": (r, POSITIVE) for n, r in enumerate(pull.overall_ratios)}
    require(
        "acceleration",
        {
            "peak_torque_nm": (pull.peak_torque_nm, POSITIVE),
            "peak_power_kw": (pull.peak_power_kw, POSITIVE),
            "max_speed_rpm": (pull.max_speed_rpm, POSITIVE),
            **ratios,
            "gear_efficiency": (pull.gear_efficiency, EFFICIENCY),
            "rolling_radius_m": (pull.rolling_radius_m, POSITIVE),
            "mass_kg": (resistance.mass_kg, POSITIVE),
            "drag_area_m2": (resistance.drag_area_m2, POSITIVE),
            "rolling_resistance": (resistance.rolling_resistance, NOT_NEGATIVE),
            "rolling_growth": (resistance.rolling_growth, NOT_NEGATIVE),
            "air_density_kg_m3": (resistance.air_density_kg_m3, POSITIVE),
            "speed_km_h": (speed_km_h, POSITIVE),
            **({} if grip_n is None else {"grip_n": (grip_n, POSITIVE)}),
        },
    )
