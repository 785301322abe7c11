"""Facts of what the drive can do: hills, steady speeds, top speed, pulling away.

The grip of the tyres isn't asked: it grows with the mass, and a fact that read it could rise where
the drive alone lets it fall. What grip allows stands beside the facts in the performance section.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from configurator.build_spec.drive_facts import DriveFact, MassKind, Surroundings
from configurator.build_spec.drive_state import DriveState, Parts
from configurator.build_spec.driving_inputs import losses_of, rolling_of
from configurator.build_spec.offer import NO_EFFECTS, EffectMask
from configurator.catalog.models.component import Motor, Pack, Reduction, Slot, Tyre
from configurator.catalog.models.rule import FactName
from configurator.physics.acceleration import LONGEST_S, Pull, Resistance, seconds_to_speed
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.electrical_currents import mechanical_power_w
from configurator.physics.performance import (
    geared_speed_km_h,
    hill_restart_percent,
    shaft_power_kw,
    speed_by_power_km_h,
)
from configurator.physics.tyre import tyre_speed_km_h
from configurator.units import METRES_PER_MILE

CRUISE_SPEED_KM_H = 90.0
"""The steady speed that the drive must hold for as long as the battery lasts [km/h]."""

MOTORWAY_SPEED_KM_H = 110.0
"""The steady speed of a fast road, a little below 70 mph [km/h]."""

TOWN_SPEED_KM_H = 50.0
COUNTRY_SPEED_KM_H = 60 * METRES_PER_MILE / 1000

CONTINUOUS_SHARE_OF_PEAK = 0.5
"""What a battery gives for long by what it gives for moments, where nobody stated it. Common
practice, no source."""

AIR_KG_M3 = air_density_kg_m3(15.0, 0.0)
"""The standard day at sea level."""

_W_PER_KW = 1000.0

_GEARING: dict[Slot, frozenset[str]] = {
    "motor": frozenset({"max_speed_rpm"}),
    "reduction": frozenset({"overall_ratios"}),
    "tyre": frozenset({"rolling_radius_m", "speed_symbol"}),
}
_HILL: dict[Slot, frozenset[str]] = {
    "motor": frozenset({"peak_torque_nm"}),
    "reduction": frozenset({"overall_ratios", "efficiency"}),
    "tyre": frozenset({"rolling_radius_m", "rolling_resistance"}),
}
_LOSSES = frozenset({"peak_power_kw", "efficiency", "efficiency_by_load", "no_load_loss_w"})
_STEADY: dict[Slot, frozenset[str]] = {
    "motor": frozenset({"continuous_power_kw", "max_speed_rpm", *_LOSSES}),
    "reduction": frozenset({"efficiency", "overall_ratios"}),
    "tyre": frozenset({"rolling_resistance", "rolling_growth_percent", "rolling_radius_m"}),
    "pack": frozenset({"continuous_discharge_kw", "peak_discharge_kw"}),
}
_PULL: dict[Slot, frozenset[str]] = {
    "motor": frozenset({"peak_torque_nm", "max_speed_rpm", *_LOSSES}),
    "reduction": _STEADY["reduction"],
    "tyre": _STEADY["tyre"],
    "pack": frozenset({"peak_discharge_kw"}),
}


@dataclass(frozen=True)
class Drive:
    """The parts that move a vehicle; a battery that is still open limits nothing."""

    motor: Motor
    reduction: Reduction
    tyre: Tyre
    pack: Pack | None

    @property
    def continuous_kw(self) -> float:
        """Power at the motor's shaft that motor and battery give for long [kW]."""
        return min(self.motor.continuous_power_kw, self.pack_continuous_kw)

    @property
    def pack_continuous_kw(self) -> float:
        """What the battery's continuous power comes to at the motor's shaft [kW]."""
        if self.pack is None:
            return self.motor.peak_power_kw
        stated_kw = self.pack.continuous_discharge_kw
        return self._at_shaft_kw(
            CONTINUOUS_SHARE_OF_PEAK * self.pack.peak_discharge_kw
            if stated_kw is None
            else stated_kw
        )

    @property
    def peak_kw(self) -> float:
        """Greatest power at the motor's shaft that motor and battery give [kW]."""
        if self.pack is None:
            return self.motor.peak_power_kw
        return min(self.motor.peak_power_kw, self._at_shaft_kw(self.pack.peak_discharge_kw))

    def _at_shaft_kw(self, terminal_kw: float) -> float:
        losses = losses_of(self.motor)
        shaft_w = mechanical_power_w(
            terminal_w=terminal_kw * _W_PER_KW,
            efficiency=losses.efficiency,
            no_load_w=losses.no_load_w,
            per_w=losses.per_w,
        )
        # A drive that eats all of its battery's power is told as one that hardly moves.
        return max(shaft_w, 1.0) / _W_PER_KW

    @property
    def geared_km_h(self) -> float:
        """Road speed at the motor's greatest speed in the longest gear [km/h]."""
        return geared_speed_km_h(
            max_speed_rpm=self.motor.max_speed_rpm,
            lowest_overall_ratio=min(self.reduction.overall_ratios),
            rolling_radius_m=self.tyre.rolling_radius_m,
        )

    def lasting_kw_at(self, speed_km_h: float) -> float:
        """Power at the motor's shaft for long at a speed [kW]; none that the gearing forbids."""
        return self.continuous_kw if speed_km_h <= self.geared_km_h else 0.0

    @property
    def pull(self) -> Pull:
        """What the drive gives at the wheels."""
        return Pull(
            peak_torque_nm=self.motor.peak_torque_nm,
            peak_power_kw=self.peak_kw,
            max_speed_rpm=self.motor.max_speed_rpm,
            overall_ratios=self.reduction.overall_ratios,
            gear_efficiency=self.reduction.efficiency.value,
            rolling_radius_m=self.tyre.rolling_radius_m,
        )


def drive_of(parts: Parts) -> Drive | None:
    """Gather the parts that move a vehicle; None where one of them is missing."""
    motor, reduction = parts.get("motor", Motor), parts.get("reduction", Reduction)
    tyre = parts.get("tyre", Tyre)
    if motor is None or reduction is None or tyre is None:
        return None
    return Drive(motor, reduction, tyre, parts.get("pack", Pack))


Compute = Callable[[Drive, Resistance], float | None]


def performance_facts(around: Surroundings) -> list[DriveFact]:
    """List the facts of hill, steady speeds, top speed, tyre speed and pulling away."""

    def fact(
        name: FactName,
        reads: Mapping[Slot, frozenset[str]],
        mass: MassKind,
        effects: EffectMask,
        compute: Compute,
        *,
        falls: bool = True,
    ) -> DriveFact:
        def evaluate(state: DriveState) -> float | None:
            drive = drive_of(around.parts(state))
            return None if drive is None else compute(drive, resistance_of(around, drive, state))

        return DriveFact(
            name, None, reads, effects, mass, falls, lambda states: [evaluate(s) for s in states]
        )

    rolling, air = (False, True, False, False), (True, True, False, False)
    return [
        fact("hill_restart_percent", _HILL, "train", rolling, restart_percent),
        fact("cruise_power_margin_kw", _STEADY, "driver", air, _margin_at(CRUISE_SPEED_KM_H)),
        fact("motorway_power_margin_kw", _STEADY, "driver", air, _margin_at(MOTORWAY_SPEED_KM_H)),
        fact("top_speed_km_h", _STEADY, "driver", air, _top_speed_km_h),
        fact("seconds_to_50_km_h", _PULL, "driver", air, _seconds_to(TOWN_SPEED_KM_H), falls=False),
        fact(
            "seconds_to_60_mph", _PULL, "driver", air, _seconds_to(COUNTRY_SPEED_KM_H), falls=False
        ),
        fact("tyre_speed_margin_km_h", _GEARING, "", NO_EFFECTS, _tyre_speed_margin_km_h),
    ]


def resistance_of(around: Surroundings, drive: Drive, state: DriveState) -> Resistance:
    """Tell what holds a state back; one without a mass counts as a gram, for facts without it."""
    heavier_kg = around.offer.vehicle.measured_road_load.heavier_kg
    return Resistance(
        mass_kg=max(state.mass_g / 1000 + heavier_kg, 0.001),
        drag_area_m2=around.offer.vehicle.drag_area_m2.value + state.effects[0],
        rolling_resistance=rolling_of(around.offer.vehicle, drive.tyre).value + state.effects[1],
        rolling_growth=drive.tyre.rolling_growth_percent / 100,
        air_density_kg_m3=AIR_KG_M3,
    )


def restart_percent(drive: Drive, resistance: Resistance) -> float:
    """Find the steepest hill on which a drive starts, whatever the grip [%]."""
    return hill_restart_percent(
        mass_kg=resistance.mass_kg,
        peak_torque_nm=drive.motor.peak_torque_nm,
        overall_ratio=max(drive.reduction.overall_ratios),
        efficiency=drive.reduction.efficiency.value,
        rolling_radius_m=drive.tyre.rolling_radius_m,
        rolling_resistance=resistance.rolling_resistance,
    )


def steady_kw(
    drive: Drive, resistance: Resistance, speed_km_h: float, slope_percent: float = 0.0
) -> float:
    """Tell the power that a steady speed takes at the motor's shaft [kW]."""
    return shaft_power_kw(
        **_on_the_road(drive, resistance), speed_km_h=speed_km_h, slope_percent=slope_percent
    )


def speed_by_power(drive: Drive, resistance: Resistance) -> float:
    """Find the speed that motor and battery hold for long, whatever the gearing [km/h]."""
    return speed_by_power_km_h(**_on_the_road(drive, resistance), power_kw=drive.continuous_kw)


def _on_the_road(drive: Drive, resistance: Resistance) -> dict[str, float]:
    return {
        "mass_kg": resistance.mass_kg,
        "drag_area_m2": resistance.drag_area_m2,
        "rolling_resistance": resistance.rolling_resistance,
        "rolling_growth": resistance.rolling_growth,
        "drive_efficiency": drive.reduction.efficiency.value,
        "air_density_kg_m3": resistance.air_density_kg_m3,
    }


def _margin_at(speed_km_h: float) -> Compute:
    return lambda drive, resistance: (
        drive.lasting_kw_at(speed_km_h) - steady_kw(drive, resistance, speed_km_h)
    )


def _seconds_to(speed_km_h: float) -> Compute:
    """Count a speed that the gearing forbids as never reached, so that no limit overlooks it."""

    def seconds(drive: Drive, resistance: Resistance) -> float:
        reached = seconds_to_speed(drive.pull, resistance, speed_km_h)
        return LONGEST_S if reached is None else reached

    return seconds


def _top_speed_km_h(drive: Drive, resistance: Resistance) -> float:
    return min(speed_by_power(drive, resistance), drive.geared_km_h)


def _tyre_speed_margin_km_h(drive: Drive, _resistance: Resistance) -> float:
    return tyre_speed_km_h(drive.tyre.speed_symbol) - drive.geared_km_h
