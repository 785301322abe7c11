"""How hill, steady speeds, top speed and pulling away came about."""

from __future__ import annotations

import math
from collections.abc import Callable

from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.derivations.worked import (
    FIRST_PRINCIPLES,
    Question,
    Worked,
    by_practice,
    of_component,
    of_uncertain,
    step,
)
from configurator.build_spec.driving_inputs import rolling_of
from configurator.build_spec.performance_facts import (
    AIR_KG_M3,
    COUNTRY_SPEED_KM_H,
    CRUISE_SPEED_KM_H,
    MOTORWAY_SPEED_KM_H,
    TOWN_SPEED_KM_H,
    Drive,
    drive_of,
    resistance_of,
    restart_percent,
    speed_by_power,
    steady_kw,
)
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.rule import FactName
from configurator.physics.acceleration import LONGEST_S, MASS_FACTOR, Resistance, seconds_to_speed
from configurator.physics.tyre import tyre_speed_km_h
from configurator.units import KM_H_PER_M_S, STANDARD_GRAVITY_M_S2

_BAND_KM_H = 10.0
_DRIVEN = ("Coast down on a level road", "Weigh the finished vehicle")


def derive_performance(question: Question, name: FactName) -> Worked | None:
    """Work out a fact of what the drive can do."""
    work = _WORK.get(name)
    drive = drive_of(question.parts)
    fact = question.compiled.book.drive_fact(name, None)
    if work is None or drive is None or fact is None:
        return None
    state = question.compiled.book.state(fact, question.choices)
    resistance = resistance_of(question.compiled.book.around, drive, state)
    return work(question, drive, resistance)


def _road_inputs(
    question: Question, drive: Drive, resistance: Resistance
) -> tuple[StatedInput, ...]:
    vehicle, tyre = question.vehicle, drive.tyre
    drag, rolling = vehicle.drag_area_m2, rolling_of(vehicle, tyre)
    return (
        by_practice("mass", "Mass, as its own figure", resistance.mass_kg, "kg", "the ledger")
        .model_copy(update={"sigma": vehicle.mass_sigma_kg}),
        of_uncertain("drag-area", "Drag area, before the choices", drag, "m²"),
        by_practice(
            "drag-with-choices", "Drag area with the choices", resistance.drag_area_m2, "m²",
            "the vehicle's with what the choices change",
        ),
        of_uncertain("rolling-resistance", f"{tyre.label}: rolling resistance", rolling, ""),
        by_practice(
            "rolling-with-choices", "Rolling resistance with the choices",
            resistance.rolling_resistance, "", "the tyre's with what the choices change",
        ),
        by_practice(
            "air", "Density of the air", AIR_KG_M3, "kg/m³", "standard atmosphere, 15 °C, sea level"
        ),
    )  # fmt: skip


def _gear_inputs(drive: Drive) -> tuple[StatedInput, ...]:
    motor, gear, tyre = drive.motor, drive.reduction, drive.tyre
    return (
        of_component(motor, "peak-torque", "peak torque", motor.peak_torque_nm, "N·m"),
        of_component(motor, "motor-speed", "greatest speed", motor.max_speed_rpm, "1/min"),
        of_component(gear, "shortest-gear", "shortest gear", max(gear.overall_ratios), ""),
        of_component(gear, "longest-gear", "longest gear", min(gear.overall_ratios), ""),
        of_uncertain("gear-efficiency", f"{gear.label}: efficiency", gear.efficiency, ""),
        of_component(tyre, "rolling-radius", "rolling radius", tyre.rolling_radius_m, "m"),
    )


def _power_inputs(drive: Drive) -> tuple[StatedInput, ...]:
    motor, pack = drive.motor, drive.pack
    found = [
        of_component(motor, "continuous-power", "continuous power", motor.continuous_power_kw, "kW")
    ]
    if pack is not None:
        stated = pack.continuous_discharge_kw
        label = "half its peak power" if stated is None else "continuous power"
        value = pack.peak_discharge_kw / 2 if stated is None else stated
        found.append(of_component(pack, "battery-power", label, value, "kW"))
    return tuple(found)


def _restart(question: Question, drive: Drive, resistance: Resistance) -> Worked:
    force_n = (
        drive.motor.peak_torque_nm
        * max(drive.reduction.overall_ratios)
        * drive.reduction.efficiency.value
        / drive.tyre.rolling_radius_m
    )
    weight_n = resistance.mass_kg * STANDARD_GRAVITY_M_S2
    return Worked(
        "the slope on which slope and rolling resistance take all the force that peak torque "
        "brings to the wheels in the shortest gear; fully laden with the heaviest trailer allowed, "
        "whatever the tyres' grip",
        "equilibrium on a slope",
        (*_gear_inputs(drive), *_road_inputs(question, drive, resistance)),
        (
            step("Force at the wheels", force_n, "N", 0),
            step("Weight", weight_n, "N", 0),
            step("Force by weight", 100 * force_n / weight_n, "%"),
            step("Rolling resistance, of the weight", 100 * resistance.rolling_resistance, "%", 2),
            step("Steepest restart", restart_percent(drive, resistance), "%"),
        ),
        narrowed_by=("Weigh the finished vehicle", "Try a known hill"),
    )


def _forces(resistance: Resistance, speed_km_h: float) -> list[DerivationStep]:
    """Tell drag and rolling resistance at a steady speed, as powers at the wheels."""
    speed_m_s = speed_km_h / KM_H_PER_M_S
    drag_n = 0.5 * resistance.air_density_kg_m3 * resistance.drag_area_m2 * speed_m_s**2
    grown = resistance.rolling_resistance * (
        1 + resistance.rolling_growth * (speed_km_h / 100) ** 2
    )
    rolling_n = resistance.mass_kg * STANDARD_GRAVITY_M_S2 * grown
    return [
        step(f"Drag at {speed_km_h:g} km/h", drag_n * speed_m_s / 1000, "kW", 2),
        step("Rolling resistance", rolling_n * speed_m_s / 1000, "kW", 2),
        step("At the wheels together", (drag_n + rolling_n) * speed_m_s / 1000, "kW", 2),
    ]


def _margin_at(speed_km_h: float) -> Callable[[Question, Drive, Resistance], Worked]:
    def work(question: Question, drive: Drive, resistance: Resistance) -> Worked:
        needed_kw = steady_kw(drive, resistance, speed_km_h)
        given_kw = drive.lasting_kw_at(speed_km_h)
        return Worked(
            "the power that motor and battery give for long, none beyond the speed at the motor's "
            "greatest speed, less what the speed takes on the level at the motor's shaft; driver "
            "only",
            FIRST_PRINCIPLES,
            (
                *_power_inputs(drive),
                *_gear_inputs(drive)[1:],
                *_road_inputs(question, drive, resistance),
            ),
            (
                *_forces(resistance, speed_km_h),
                step("At the motor's shaft, by the gear's efficiency", needed_kw, "kW", 2),
                *_geared(drive),
                step("Given for long, the least of motor and battery", given_kw, "kW", 2),
                step("Given, less taken", given_kw - needed_kw, "kW", 2),
            ),
            narrowed_by=_DRIVEN,
        )

    return work


def _geared(drive: Drive) -> list[DerivationStep]:
    metres = 2 * math.pi * drive.tyre.rolling_radius_m
    turns = drive.motor.max_speed_rpm / 60 / min(drive.reduction.overall_ratios)
    return [
        step("Rolling circumference", metres, "m", 3),
        step("Turns of the wheel a second, longest gear", turns, "1/s", 2),
        step("Speed at the motor's greatest speed", drive.geared_km_h, "km/h"),
    ]


def _top_speed(question: Question, drive: Drive, resistance: Resistance) -> Worked:
    by_power = speed_by_power(drive, resistance)
    return Worked(
        "the lesser of the speed that the continuous power holds on the level and the speed at the "
        "motor's greatest speed",
        FIRST_PRINCIPLES,
        (
            *_power_inputs(drive),
            *_gear_inputs(drive)[1:],
            *_road_inputs(question, drive, resistance),
        ),
        (
            step("Given for long, the least of motor and battery", drive.continuous_kw, "kW", 2),
            step("Speed at which the road takes just that", by_power, "km/h"),
            *_geared(drive),
            step("The lesser of both speeds", min(by_power, drive.geared_km_h), "km/h"),
        ),
        narrowed_by=_DRIVEN,
    )


def _seconds_to(speed_km_h: float) -> Callable[[Question, Drive, Resistance], Worked]:
    def work(question: Question, drive: Drive, resistance: Resistance) -> Worked:
        whole = seconds_to_speed(drive.pull, resistance, speed_km_h)
        if whole is None:
            return _never_reached(drive)
        ends = [_BAND_KM_H * n for n in range(1, math.ceil(speed_km_h / _BAND_KM_H))]
        reached = [seconds_to_speed(drive.pull, resistance, end) or 0.0 for end in ends]
        times, speeds = [0.0, *reached, whole], [0.0, *ends, speed_km_h]
        parts = [
            step(f"{start:.0f} to {end:.0f} km/h", until - since, "s", 2)
            for start, end, since, until in zip(
                speeds[:-1], speeds[1:], times[:-1], times[1:], strict=True
            )
        ]
        factor = by_practice(
            "rotating", "Mass to accelerate by mass to carry", MASS_FACTOR, "",
            "handbook value, from memory",
        )  # fmt: skip
        peak = of_component(
            drive.motor, "peak-power", "peak power at the shaft", drive.peak_kw, "kW"
        )
        return Worked(
            "at each speed the mass, with its turning parts, by the force left over; the force is "
            "the least of torque, power and motor speed in the best gear, less drag and rolling "
            "resistance; summed over the speeds. Driver only, level, no wind, grip enough",
            "Newton's second law",
            (factor, peak, *_gear_inputs(drive), *_road_inputs(question, drive, resistance)),
            (*parts, step("Together", whole, "s", 2)),
            narrowed_by=("Time it on a level road both ways", "Weigh the finished vehicle"),
        )

    return work


def _never_reached(drive: Drive) -> Worked:
    return Worked(
        "the gearing does not allow the speed, which counts as never reached: the longest time",
        FIRST_PRINCIPLES,
        _gear_inputs(drive)[1:],
        (
            step("Stands for hardly or never", LONGEST_S, "s", 2),
            step("Together", LONGEST_S, "s", 2),
        ),
        narrowed_by=("Choose a longer gear or a faster motor",),
    )


def _tyre_speed(_question: Question, drive: Drive, _resistance: Resistance) -> Worked:
    allowed = tyre_speed_km_h(drive.tyre.speed_symbol)
    return Worked(
        "the speed of the tyres' symbol, less the speed at the motor's greatest speed",
        "speed symbols: ETRTO and ISO 4000-1",
        (
            of_component(
                drive.tyre, "tyre-speed", f"speed symbol {drive.tyre.speed_symbol}", allowed, "km/h"
            ),
            *_gear_inputs(drive)[1:],
        ),
        (
            step("Speed of the tyres' symbol", allowed, "km/h", 0),
            *_geared(drive),
            step("Difference", allowed - drive.geared_km_h, "km/h"),
        ),
        narrowed_by=("Read symbol and rolling radius on the tyres that were bought",),
    )


_WORK: dict[FactName, Callable[[Question, Drive, Resistance], Worked]] = {
    "hill_restart_percent": _restart,
    "cruise_power_margin_kw": _margin_at(CRUISE_SPEED_KM_H),
    "motorway_power_margin_kw": _margin_at(MOTORWAY_SPEED_KM_H),
    "top_speed_km_h": _top_speed,
    "seconds_to_50_km_h": _seconds_to(TOWN_SPEED_KM_H),
    "seconds_to_60_mph": _seconds_to(COUNTRY_SPEED_KM_H),
    "tyre_speed_margin_km_h": _tyre_speed,
}
