"""Starting again on a hill, by the drive and by the grip of a wet road."""

from __future__ import annotations

from dataclasses import replace

from configurator.build_spec.performance_ability import STORED_DECIMALS, WET_FRICTION, Ability
from configurator.build_spec.performance_facts import restart_percent
from configurator.build_spec.performance_result import PerformanceLine
from configurator.physics.acceleration import Resistance
from configurator.physics.grip import grip_hill_percent

FRICTION_SIGMA = 0.1
"""Standard deviation of the friction of wet roads and tyres. Common practice, no source."""

_FIRST_PRINCIPLES = "first principles"
_GRIP = f"the grip of a wet road, friction {WET_FRICTION:g}"


def restart_lines(ability: Ability) -> tuple[PerformanceLine, ...]:
    """Tell the steepest hill on which it starts fully laden, and with its heaviest trailer."""
    laden = _restart("restart-laden", "Fully laden", 0.0, ability)
    if ability.trailer_kg <= 0:
        return (laden,)
    label = f"Fully laden, trailer of {ability.trailer_kg:,.0f} kg"
    return (laden, _restart("restart-trailer", label, ability.trailer_kg, ability))


def _restart(line_id: str, label: str, trailer_kg: float, ability: Ability) -> PerformanceLine:
    train = replace(ability.laden, mass_kg=ability.laden.mass_kg + trailer_kg)
    by_drive = restart_percent(ability.drive, train)
    by_grip = _by_grip(ability, train, WET_FRICTION)
    slips = by_grip is not None and by_grip < by_drive
    value = by_grip if slips and by_grip is not None else by_drive
    asked, last = ability.hill_asked_percent, trailer_kg >= ability.trailer_kg
    grip_sigma = _grip_sigma(ability, train)
    sigma = grip_sigma if slips else ability.sigma(restart_percent, train)
    is_doubted = asked is not None and last and value >= asked > value - 2 * (sigma or 0.0)
    careful = f" It may not start on the {asked:g} % asked for." if is_doubted else ""
    if not slips and by_grip is not None and by_grip - 2 * (grip_sigma or 0.0) < by_drive:
        careful += " On a slippery road the grip gives out first."
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
        note=f"The drive allows {by_drive:.1f} %, the grip {grips}.{careful}",
        sigma=sigma,
        margin=round(value - asked, STORED_DECIMALS) if slips and asked and last else None,
        how=(
            "drive: peak torque through the shortest gear against slope and rolling resistance; "
            "grip: friction times the load of the driven axle, which the slope moves to the rear; "
            f"where that limits, ± is of friction {WET_FRICTION:g} ± {2 * FRICTION_SIGMA:g} alone"
        ),
        source=f"{_FIRST_PRINCIPLES}; friction of a wet road, common practice, no source",
    )


def _by_grip(ability: Ability, train: Resistance, friction: float) -> float | None:
    return grip_hill_percent(
        friction=friction,
        driven_axle=ability.vehicle.driven_axle,
        driven_share=ability.fully_laden.driven_share,
        height_over_wheelbase=ability.fully_laden.height_over_wheelbase,
        rolling_resistance=train.rolling_resistance,
        trailer_over_vehicle=train.mass_kg / ability.laden.mass_kg - 1,
    )


def _grip_sigma(ability: Ability, train: Resistance) -> float | None:
    """Tell how far the friction of wet roads moves the slope; None where it sets no limit."""
    more, less = (_by_grip(ability, train, WET_FRICTION + s * FRICTION_SIGMA) for s in (1, -1))
    if more is None or less is None:
        return None
    return round((more - less) / 2, STORED_DECIMALS)
