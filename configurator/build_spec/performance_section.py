"""What the drive of a complete build can do, each number with what limits it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.drive_state import DriveState
from configurator.build_spec.driving_inputs import RECOVERY_FRICTION
from configurator.build_spec.facts import Extent
from configurator.build_spec.fast_road import fast_road_lines
from configurator.build_spec.performance_facts import (
    COUNTRY_SPEED_KM_H,
    TOWN_SPEED_KM_H,
    Drive,
    drive_of,
    resistance_of,
    restart_percent,
    speed_by_power,
)
from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.sums import DRIVER_KG
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.acceleration import LONGEST_S, Resistance, seconds_to_speed
from configurator.physics.grip import grip_force_n, grip_hill_percent

Extents = Mapping[tuple[FactName, str | None], Extent]

WET_FRICTION = RECOVERY_FRICTION
HEIGHT_SHARE = 0.38
"""Height of the centre of gravity by that of the vehicle, where it is not computed. Common
practice, no source."""

STORED_DECIMALS = 3
_FIRST_PRINCIPLES = "first principles"
_GRIP = f"the grip of a wet road, friction {WET_FRICTION:g}"


@dataclass(frozen=True)
class _Stance:
    """How a vehicle with some load stands on its driven axle."""

    mass_kg: float
    driven_share: float
    height_over_wheelbase: float


@dataclass(frozen=True)
class _Ability:
    """A complete build, ready to be asked what its drive can do."""

    vehicle: Vehicle
    drive: Drive
    driver: Resistance
    laden: Resistance
    trailer_kg: float
    with_driver: _Stance
    fully_laden: _Stance
    hill_asked_percent: float | None


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
    ability = _ability(compiled, choices, extents)
    if ability is None:
        return ()
    return (
        _pulling_away("seconds-to-50", "0 to 50 km/h", TOWN_SPEED_KM_H, ability),
        _pulling_away("seconds-to-60-mph", "0 to 60 mph", COUNTRY_SPEED_KM_H, ability),
        *_top_speed(ability),
        _restart("restart-laden", "Fully laden", 0.0, ability),
        *_restart_with_trailer(ability),
        *fast_road_lines(ability.drive, ability.driver),
    )


def _ability(compiled: Compiled, choices: Mapping[str, str], extents: Extents) -> _Ability | None:
    if len(choices) < len(compiled.offer.groups):
        return None
    book, vehicle = compiled.book, compiled.offer.vehicle
    drive = drive_of(book.parts_of(choices))
    away = book.drive_fact("seconds_to_50_km_h", None)
    hill = book.drive_fact("hill_restart_percent", None)
    if drive is None or away is None or hill is None:
        return None
    state: DriveState = book.state(away, choices)
    driver = resistance_of(book.around, drive, state)
    train_kg = resistance_of(book.around, drive, book.state(hill, choices)).mass_kg
    laden_g = book.masses.laden_g.of(choices)
    laden = resistance_of(book.around, drive, replace(state, mass_g=laden_g))
    return _Ability(
        vehicle=vehicle,
        drive=drive,
        driver=driver,
        laden=laden,
        trailer_kg=train_kg - laden.mass_kg,
        with_driver=_with_driver(vehicle, extents),
        fully_laden=_stance(vehicle, extents, "laden_front_axle_kg", "laden_rear_axle_kg"),
        hill_asked_percent=_hill_asked(compiled),
    )


def _with_driver(vehicle: Vehicle, extents: Extents) -> _Stance:
    place = vehicle.places[vehicle.driver_place]
    on_rear_kg = DRIVER_KG * place.x_m / vehicle.wheelbase_m
    driver_kg = (DRIVER_KG - on_rear_kg, on_rear_kg)
    return _stance(vehicle, extents, "kerb_front_axle_kg", "kerb_rear_axle_kg", driver_kg)


def _stance(
    vehicle: Vehicle,
    extents: Extents,
    front: FactName,
    rear: FactName,
    added_kg: tuple[float, float] = (0.0, 0.0),
) -> _Stance:
    front_kg = extents[front, None].low + added_kg[0]
    rear_kg = extents[rear, None].low + added_kg[1]
    computed = extents.get(("centre_of_gravity_height_m", None))
    height_m = HEIGHT_SHARE * vehicle.height_m if computed is None else computed.low
    driven_kg = front_kg if vehicle.driven_axle == "front" else rear_kg
    mass_kg = front_kg + rear_kg
    # An axle carries nothing once the load beyond the other has lifted it.
    share = min(max(driven_kg / mass_kg, 0.0), 1.0)
    return _Stance(mass_kg, share, height_m / vehicle.wheelbase_m)


def _hill_asked(compiled: Compiled) -> float | None:
    asked = [f.bound for f in compiled.limits if f.limit.limit == "hill_restart_percent"]
    return max(asked, default=None)


def _pulling_away(
    line_id: str, label: str, speed_km_h: float, ability: _Ability
) -> PerformanceLine:
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


def _top_speed(ability: _Ability) -> tuple[PerformanceLine, ...]:
    drive = ability.drive
    by_power, geared = speed_by_power(drive, ability.driver), drive.geared_km_h
    by_motor = drive.motor.continuous_power_kw <= drive.pack_continuous_kw
    continuous = f"{'motor' if by_motor else 'battery'}, {drive.continuous_kw:.0f} kW for long"

    def line(line_id: str, label: str, value: float, limit: str, how: str) -> PerformanceLine:
        return PerformanceLine(
            id=line_id,
            topic="Top speed",
            label=label,
            value=round(value, STORED_DECIMALS),
            unit="km/h",
            decimals=0,
            limited_by=limit,
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
        ),
        line(
            "speed-by-power",
            "By power",
            by_power,
            f"the {continuous}",
            "the speed at which drag and rolling resistance take the continuous power; level",
        ),
        line(
            "speed-by-motor",
            "By motor speed",
            geared,
            f"the motor, {drive.motor.max_speed_rpm:,.0f} turns a minute",
            "rolling circumference times the motor's greatest speed by the longest gear",
        ),
    )


def _restart_with_trailer(ability: _Ability) -> tuple[PerformanceLine, ...]:
    if ability.trailer_kg <= 0:
        return ()
    label = f"Fully laden, trailer of {ability.trailer_kg:,.0f} kg"
    return (_restart("restart-trailer", label, ability.trailer_kg, ability),)


def _restart(line_id: str, label: str, trailer_kg: float, ability: _Ability) -> PerformanceLine:
    train = replace(ability.laden, mass_kg=ability.laden.mass_kg + trailer_kg)
    by_drive = restart_percent(ability.drive, train)
    by_grip = grip_hill_percent(
        friction=WET_FRICTION,
        driven_axle=ability.vehicle.driven_axle,
        driven_share=ability.fully_laden.driven_share,
        height_over_wheelbase=ability.fully_laden.height_over_wheelbase,
        rolling_resistance=train.rolling_resistance,
        trailer_over_vehicle=trailer_kg / ability.laden.mass_kg,
    )
    slips = by_grip is not None and by_grip < by_drive
    value = by_grip if slips and by_grip is not None else by_drive
    asked, last = ability.hill_asked_percent, trailer_kg >= ability.trailer_kg
    grips = "sets no limit" if by_grip is None else f"allows {by_grip:.1f} %"
    return PerformanceLine(
        id=line_id,
        topic="Restart on a hill",
        label=label,
        value=round(value, STORED_DECIMALS),
        unit="%",
        decimals=0,
        rounding="down",
        limited_by=_GRIP if slips else "the drive",
        note=f"The drive allows {by_drive:.1f} %, the grip {grips}.",
        margin=round(value - asked, STORED_DECIMALS) if slips and asked and last else None,
        how=(
            "drive: peak torque through the shortest gear against slope and rolling resistance; "
            "grip: friction times the load of the driven axle, which the slope moves to the rear"
        ),
        source=f"{_FIRST_PRINCIPLES}; friction of a wet road, common practice, no source",
    )
