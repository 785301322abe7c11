"""What a drive can do on a hill, at a cruise and flat out."""

from __future__ import annotations

import math

from configurator.physics.measurement import EFFICIENCY, NOT_NEGATIVE, POSITIVE, require
from configurator.units import KM_H_PER_M_S, STANDARD_GRAVITY_M_S2

_W_PER_KW = 1000.0


def hill_restart_percent(
    *,
    mass_kg: float,
    peak_torque_nm: float,
    overall_ratio: float,
    efficiency: float,
    rolling_radius_m: float,
    rolling_resistance: float,
) -> float:
    """Find the steepest hill on which the vehicle can hold itself and start.

    It asks the drive alone; whether the tyres grip is another question. Never rises with mass.

    Parameters
    ----------
    mass_kg : float
        Mass of the vehicle [kg], > 0.
    peak_torque_nm : float
        Peak torque of the motor [N m], > 0.
    overall_ratio : float
        Turns of the motor for one of the wheel, > 0.
    efficiency : float
        Of the reduction, > 0, at most 1.
    rolling_radius_m : float
        Rolling radius of the driven wheels [m], > 0.
    rolling_resistance : float
        Rolling resistance by weight, >= 0.

    Returns
    -------
    float
        Rise by horizontal distance [%]; negative when the drive cannot move it on the level.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Equilibrium on a slope, F = m g (sin a + c cos a), solved for a.

    Examples
    --------
    >>> round(hill_restart_percent(mass_kg=1500.0, peak_torque_nm=185.0, overall_ratio=9.0,
    ...     efficiency=1.0, rolling_radius_m=0.3, rolling_resistance=0.013), 1)
    39.2
    """
    require(
        "hill restart",
        {
            "mass_kg": (mass_kg, POSITIVE),
            "peak_torque_nm": (peak_torque_nm, POSITIVE),
            "overall_ratio": (overall_ratio, POSITIVE),
            "efficiency": (efficiency, EFFICIENCY),
            "rolling_radius_m": (rolling_radius_m, POSITIVE),
            "rolling_resistance": (rolling_resistance, NOT_NEGATIVE),
        },
    )
    force_n = peak_torque_nm * overall_ratio * efficiency / rolling_radius_m
    pull = force_n / (mass_kg * STANDARD_GRAVITY_M_S2) / math.hypot(1.0, rolling_resistance)
    angle = math.asin(min(pull, 1.0)) - math.atan(rolling_resistance)
    return 100 * math.tan(angle)


def shaft_power_kw(
    *,
    mass_kg: float,
    drag_area_m2: float,
    rolling_resistance: float,
    drive_efficiency: float,
    air_density_kg_m3: float,
    speed_km_h: float,
    rolling_growth: float = 0.0,
    slope_percent: float = 0.0,
) -> float:
    """Find the power that a steady speed takes.

    Parameters
    ----------
    mass_kg : float
        Mass of the vehicle [kg], > 0.
    drag_area_m2 : float
        Drag coefficient times frontal area [m²], > 0.
    rolling_resistance : float
        Rolling resistance by weight at low speed, >= 0.
    drive_efficiency : float
        From where the power is counted to the wheels, > 0, at most 1; of the reduction alone for
        the power at the motor's shaft.
    air_density_kg_m3 : float
        Density of the air [kg/m³], > 0.
    speed_km_h : float
        Steady speed [km/h], > 0.
    rolling_growth : float
        How much of itself the rolling resistance gains up to 100 km/h, with the square of the
        speed, >= 0.
    slope_percent : float
        Rise by horizontal distance [%], >= 0.

    Returns
    -------
    float
        Power [kW].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: drag, rolling resistance and slope at a steady speed.

    Examples
    --------
    >>> [round(shaft_power_kw(mass_kg=1500.0, drag_area_m2=1.0, rolling_resistance=0.013,
    ...     drive_efficiency=0.92, air_density_kg_m3=1.2, speed_km_h=110.0, slope_percent=slope), 2)
    ...     for slope in (0.0, 2.0)]
    [24.96, 34.72]
    """
    require(
        "steady speed",
        {
            "mass_kg": (mass_kg, POSITIVE),
            "drag_area_m2": (drag_area_m2, POSITIVE),
            "rolling_resistance": (rolling_resistance, NOT_NEGATIVE),
            "drive_efficiency": (drive_efficiency, EFFICIENCY),
            "air_density_kg_m3": (air_density_kg_m3, POSITIVE),
            "speed_km_h": (speed_km_h, POSITIVE),
            "rolling_growth": (rolling_growth, NOT_NEGATIVE),
            "slope_percent": (slope_percent, NOT_NEGATIVE),
        },
    )
    speed_m_s, angle = speed_km_h / KM_H_PER_M_S, math.atan(slope_percent / 100)
    drag_n = 0.5 * air_density_kg_m3 * drag_area_m2 * speed_m_s**2
    rolling = rolling_resistance * (1 + rolling_growth * (speed_km_h / 100) ** 2)
    weight_n = mass_kg * STANDARD_GRAVITY_M_S2
    force_n = drag_n + weight_n * (rolling * math.cos(angle) + math.sin(angle))
    return force_n * speed_m_s / drive_efficiency / _W_PER_KW


def geared_speed_km_h(
    *, max_speed_rpm: float, lowest_overall_ratio: float, rolling_radius_m: float
) -> float:
    """Find the road speed at the motor's greatest speed in the longest gear.

    Parameters
    ----------
    max_speed_rpm : float
        Greatest speed of the motor [1/min], > 0.
    lowest_overall_ratio : float
        Turns of the motor for one of the wheel, in the longest gear, > 0.
    rolling_radius_m : float
        Rolling radius of the driven wheels [m], > 0.

    Returns
    -------
    float
        Road speed [km/h].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: a wheel without slip rolls its circumference in a turn.

    Examples
    --------
    >>> round(geared_speed_km_h(max_speed_rpm=10000.0, lowest_overall_ratio=9.0,
    ...     rolling_radius_m=0.3), 1)
    125.7
    """
    require(
        "geared speed",
        {
            "max_speed_rpm": (max_speed_rpm, POSITIVE),
            "lowest_overall_ratio": (lowest_overall_ratio, POSITIVE),
            "rolling_radius_m": (rolling_radius_m, POSITIVE),
        },
    )
    wheel_turns_per_s = max_speed_rpm / 60 / lowest_overall_ratio
    return 2 * math.pi * rolling_radius_m * wheel_turns_per_s * KM_H_PER_M_S


def speed_by_power_km_h(
    *,
    mass_kg: float,
    drag_area_m2: float,
    rolling_resistance: float,
    drive_efficiency: float,
    power_kw: float,
    air_density_kg_m3: float,
    rolling_growth: float = 0.0,
) -> float:
    """Find the speed that a power holds on the level, whatever the gearing.

    Parameters
    ----------
    mass_kg, drag_area_m2, rolling_resistance, drive_efficiency, air_density_kg_m3, \
rolling_growth : float
        As for `shaft_power_kw`.
    power_kw : float
        Power counted where `drive_efficiency` begins [kW], > 0.

    Returns
    -------
    float
        Speed [km/h]; never rises with mass.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Power balance on the level, a cubic in the speed with one positive root (hyperbolic form).

    Examples
    --------
    >>> round(speed_by_power_km_h(mass_kg=1500.0, drag_area_m2=1.0, rolling_resistance=0.013,
    ...     drive_efficiency=0.92, power_kw=24.96, air_density_kg_m3=1.2))
    110
    """
    require(
        "top speed",
        {
            "mass_kg": (mass_kg, POSITIVE),
            "drag_area_m2": (drag_area_m2, POSITIVE),
            "rolling_resistance": (rolling_resistance, NOT_NEGATIVE),
            "drive_efficiency": (drive_efficiency, EFFICIENCY),
            "power_kw": (power_kw, POSITIVE),
            "air_density_kg_m3": (air_density_kg_m3, POSITIVE),
            "rolling_growth": (rolling_growth, NOT_NEGATIVE),
        },
    )
    rolling_n = mass_kg * STANDARD_GRAVITY_M_S2 * rolling_resistance
    grown = rolling_n * rolling_growth / (100 / KM_H_PER_M_S) ** 2
    square = 0.5 * air_density_kg_m3 * drag_area_m2 + grown
    constant = power_kw * _W_PER_KW * drive_efficiency / square
    return KM_H_PER_M_S * _positive_root(rolling_n / square, constant)


def _positive_root(linear: float, constant: float) -> float:
    """Solve v³ + linear v = constant for v, linear >= 0, constant > 0."""
    scale = math.sqrt(linear / 3)
    turning_point = 2 * scale**3
    if turning_point * 1e24 < constant:  # the linear part is below the last digit
        return math.cbrt(constant)
    return 2 * scale * math.sinh(math.asinh(constant / turning_point) / 3)
