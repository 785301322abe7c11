"""What the drive of a complete build can do, each number with what limits it."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fast_road import fast_road_lines
from configurator.build_spec.performance_ability import (
    STORED_DECIMALS,
    WET_FRICTION,
    Ability,
    Extents,
    ability_of,
)
from configurator.build_spec.performance_doubt import Compute
from configurator.build_spec.performance_facts import (
    COUNTRY_SPEED_KM_H,
    TOWN_SPEED_KM_H,
    Drive,
    speed_by_power,
)
from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.restart_on_hill import restart_lines
from configurator.physics.acceleration import LONGEST_S, Resistance, seconds_to_speed
from configurator.physics.grip import grip_force_n

_FIRST_PRINCIPLES = "first principles"


def performance_lines(
    compiled: Compiled, choices: Mapping[str, str], extents: Extents
) -> tuple[PerformanceLine, ...]:
    """Tell what the drive can do; nothing while choices are open or the drive is not whole.

    Parameters
    ----------
    compiled : Compiled
        The build with its limits.
    choices : mapping
        Group → option.
    extents : mapping
        The facts of the build.
    """
    ability = ability_of(compiled, choices, extents)
    if ability is None:
        return ()
    return (
        _pulling_away("seconds-to-50", "0 to 50 km/h", TOWN_SPEED_KM_H, ability),
        _pulling_away("seconds-to-60-mph", "0 to 60 mph", COUNTRY_SPEED_KM_H, ability),
        *_top_speed(ability),
        *restart_lines(ability),
        *fast_road_lines(ability.drive, ability.driver, ability.doubt),
    )


def _pulling_away(line_id: str, label: str, speed_km_h: float, ability: Ability) -> PerformanceLine:
    grip_n = grip_force_n(
        mass_kg=ability.with_driver.mass_kg,
        friction=WET_FRICTION,
        driven_axle=ability.vehicle.driven_axle,
        driven_share=ability.with_driver.driven_share,
        height_over_wheelbase=ability.with_driver.height_over_wheelbase,
    )
    pull = ability.drive.pull
    seconds = seconds_to_speed(pull, ability.driver, speed_km_h)
    on_wet = seconds_to_speed(pull, ability.driver, speed_km_h, grip_n) if grip_n > 0 else LONGEST_S
    return PerformanceLine(
        id=line_id,
        topic="Pulling away",
        label=label,
        value=None if seconds is None or seconds >= LONGEST_S else round(seconds, STORED_DECIMALS),
        unit="s",
        decimals=1,
        rounding="up",
        limited_by="" if seconds is None else _peak_limit(ability.drive),
        note=_away_note(seconds, on_wet),
        sigma=ability.sigma(
            lambda drive, held: seconds_to_speed(drive.pull, held, speed_km_h), ability.driver
        ),
        how=(
            "time is the sum over the speeds of 1.05 times the mass by the force left over; the "
            "force at the wheels is the least of torque, power and motor speed in the better gear; "
            "a gear change takes no time; driver only, level, no wind"
        ),
        source=f"{_FIRST_PRINCIPLES}; rotating parts 5 % of the mass, from memory",
    )


def _peak_limit(drive: Drive) -> str:
    if drive.peak_kw < drive.motor.peak_power_kw:
        return f"the battery, {drive.peak_kw:.0f} kW at the shaft"
    return f"the motor, {drive.peak_kw:.0f} kW"


def _away_note(seconds: float | None, on_wet: float | None) -> str:
    if seconds is None or on_wet is None:
        return "The gearing does not allow this speed."
    if seconds >= LONGEST_S:
        return "Hardly or never reached: too little force is left."
    if on_wet - seconds < 0.05:
        return "The tyres of the driven axle grip, on a wet road as well."
    if on_wet >= LONGEST_S:
        return "On a wet road the driven tyres slip before the speed is reached."
    return f"On a wet road the driven tyres slip first; it then takes about {on_wet:.1f} s."


def _top_speed(ability: Ability) -> tuple[PerformanceLine, ...]:
    drive = ability.drive
    by_power, geared = speed_by_power(drive, ability.driver), drive.geared_km_h
    by_motor = drive.motor.continuous_power_kw <= drive.pack_continuous_kw
    continuous = f"{'motor' if by_motor else 'battery'}, {drive.continuous_kw:.0f} kW for long"

    def held(drive: Drive, resistance: Resistance) -> float:
        return min(speed_by_power(drive, resistance), drive.geared_km_h)

    def line(
        line_id: str,
        label: str,
        value: float,
        limit: str,
        how: str,
        *,
        compute: Compute | None = None,
    ) -> PerformanceLine:
        return PerformanceLine(
            id=line_id,
            topic="Top speed",
            label=label,
            value=round(value, STORED_DECIMALS),
            unit="km/h",
            decimals=0,
            limited_by=limit,
            sigma=None if compute is None else ability.sigma(compute, ability.driver),
            how=how,
            source=_FIRST_PRINCIPLES,
        )

    return (
        line(
            "top-speed",
            "Top speed it can hold",
            min(by_power, geared),
            "power" if by_power < geared else "motor speed",
            "the lesser of the two below",
            compute=held,
        ),
        line(
            "speed-by-power",
            "By power",
            by_power,
            f"the {continuous}",
            "the speed at which drag and rolling resistance take the continuous power; level",
            compute=speed_by_power,
        ),
        line(
            "speed-by-motor",
            "By motor speed",
            geared,
            f"the motor, {drive.motor.max_speed_rpm:,.0f} turns a minute",
            "rolling circumference times the motor's greatest speed by the longest gear",
        ),
    )
