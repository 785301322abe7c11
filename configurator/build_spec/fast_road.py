"""Holding a motorway's speed: the power it takes, and for how long the drive bears it."""

from __future__ import annotations

from configurator.build_spec.performance_doubt import Doubt
from configurator.build_spec.performance_facts import (
    MOTORWAY_SPEED_KM_H,
    Drive,
    steady_kw,
)
from configurator.build_spec.performance_result import PerformanceLine
from configurator.physics.acceleration import Resistance
from configurator.physics.overload import seconds_of_overload

CLIMB_PERCENT = 2.0
"""A long climb of a motorway [%]."""

STORED_DECIMALS = 3

_TWO_HOURS_S = 7200.0


def fast_road_lines(
    drive: Drive, resistance: Resistance, doubt: Doubt
) -> tuple[PerformanceLine, ...]:
    """Tell the power at the motor's shaft on the level and on a climb, against what lasts."""
    speed = f"{MOTORWAY_SPEED_KM_H:g} km/h"
    return (
        _line("motorway-level", f"{speed} on the level", 0.0, (drive, resistance, doubt)),
        _line(
            "motorway-climb",
            f"{speed} up {CLIMB_PERCENT:g} %",
            CLIMB_PERCENT,
            (drive, resistance, doubt),
        ),
    )


def _line(
    line_id: str, label: str, slope_percent: float, of: tuple[Drive, Resistance, Doubt]
) -> PerformanceLine:
    drive, resistance, doubt = of

    def needed(drive: Drive, resistance: Resistance) -> float:
        return steady_kw(drive, resistance, MOTORWAY_SPEED_KM_H, slope_percent)

    def left(drive: Drive, resistance: Resistance) -> float:
        return drive.continuous_kw - needed(drive, resistance)

    needed_kw = needed(drive, resistance)
    sigmas_kw = [doubt.sigma_of(number, drive, resistance) or 0.0 for number in (needed, left)]
    is_geared = drive.geared_km_h >= MOTORWAY_SPEED_KM_H
    return PerformanceLine(
        id=line_id,
        topic="Fast road",
        label=label,
        value=round(needed_kw, STORED_DECIMALS),
        unit="kW",
        decimals=1,
        limited_by=_for_long(drive),
        note=_note(needed_kw, slope_percent, sigmas_kw[1], (drive, resistance)),
        sigma=round(sigmas_kw[0], STORED_DECIMALS),
        margin=round(drive.continuous_kw - needed_kw, STORED_DECIMALS) if is_geared else None,
        margin_sigma=round(sigmas_kw[1], STORED_DECIMALS) if is_geared else None,
        how=(
            "power at the motor's shaft for drag, rolling resistance and slope; driver only, "
            "15 °C at sea level, against the least of what motor and battery give for long"
        ),
        source="first principles; continuous powers from the makers' data sheets",
    )


def _for_long(drive: Drive) -> str:
    battery_kw, motor_kw = drive.pack_continuous_kw, drive.motor.continuous_power_kw
    if drive.pack is None:
        return f"for long: motor {motor_kw:.0f} kW"
    assumed = " (half of its peak)" if drive.pack.continuous_discharge_kw is None else ""
    return f"for long: motor {motor_kw:.0f} kW, battery {battery_kw:.0f} kW{assumed}"


def _note(
    needed_kw: float, slope_percent: float, sigma_kw: float, of: tuple[Drive, Resistance]
) -> str:
    drive, resistance = of
    if drive.geared_km_h < MOTORWAY_SPEED_KM_H:
        return "The gearing does not allow this speed."
    margin_kw = drive.continuous_kw - needed_kw
    doubted = f"within the doubt of ± {2 * sigma_kw:.1f} kW"
    if margin_kw >= 2 * sigma_kw:
        return f"{margin_kw:.1f} kW to spare, for as long as the charge lasts."
    if margin_kw >= 0:
        return (
            f"{margin_kw:.1f} kW to spare, {doubted}: it may not hold this speed for long; then "
            "slow down."
        )
    held = speed_held_km_h(drive, resistance, slope_percent)
    slower = f"slow down to about {held:.0f} km/h"
    if needed_kw > drive.peak_kw:
        return f"More than the drive ever gives: it will {slower}."
    seconds = _seconds(drive, needed_kw)
    lacks = f"{-margin_kw:.1f} kW more than lasts"
    if -margin_kw < 2 * sigma_kw:
        lacks = f"{lacks}, {doubted}"
    if seconds is None:
        return f"{lacks}: {slower} before it grows too warm."
    return f"{lacks}: after {_in_words(seconds)} {slower}, {_sooner(drive, needed_kw, sigma_kw)}."


def _sooner(drive: Drive, needed_kw: float, sigma_kw: float) -> str:
    """Say how soon at the worst, and when sooner still."""
    worst = _seconds(drive, needed_kw + 2 * sigma_kw)
    if worst is None or sigma_kw == 0:
        return "sooner on a hot day"
    return f"at the worst after {_in_words(worst)}, and sooner on a hot day"


def _seconds(drive: Drive, needed_kw: float) -> float | None:
    """Tell how long the motor bears it; None where nobody stated enough to say so."""
    if drive.motor.peak_seconds is None or needed_kw > drive.pack_continuous_kw:
        return None
    return seconds_of_overload(
        power_kw=needed_kw,
        continuous_power_kw=drive.motor.continuous_power_kw,
        peak_power_kw=drive.motor.peak_power_kw,
        peak_seconds=drive.motor.peak_seconds,
    )


def _in_words(seconds: float) -> str:
    if seconds > _TWO_HOURS_S:
        return "more than two hours"
    return f"about {seconds / 60:.0f} min" if seconds >= 90 else f"about {seconds:.0f} s"


def speed_held_km_h(drive: Drive, resistance: Resistance, slope_percent: float) -> float:
    """Find the speed that the continuous power holds on a slope [km/h], by halving."""
    low, high = 0.0, drive.geared_km_h
    for _ in range(50):
        middle = (low + high) / 2
        fits = steady_kw(drive, resistance, middle, slope_percent) <= drive.continuous_kw
        low, high = (middle, high) if fits else (low, middle)
    return low
