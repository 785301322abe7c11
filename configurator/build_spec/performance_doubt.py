"""How sure the drive's numbers are: first-order from the standard deviations of their inputs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from configurator.build_spec.driving_inputs import losses_of, mass_sigma_kg, rolling_of
from configurator.build_spec.performance_facts import Drive
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.acceleration import LONGEST_S, Resistance

MOTOR_SIGMA_PERCENT = 3.0
"""Standard deviation of a motor's torque and powers against its data sheet [%]. Common practice, no
source."""

ACCOUNT = (
    "± is two standard deviations, first-order, from those of mass, drag area, rolling resistance, "
    f"gear and battery as stated, and {MOTOR_SIGMA_PERCENT:g} % of the motor's torque and powers "
    "(common practice, no source); wind, slope and a tired drive come on top"
)

Compute = Callable[[Drive, Resistance], float | None]


@dataclass(frozen=True)
class Doubt:
    """One standard deviation of what holds a vehicle back and of what moves it."""

    mass_kg: float
    drag_area_m2: float
    rolling_resistance: float
    drag_rolling_correlation: float
    gear: float
    """Relative, as those of motor and battery."""
    motor: float
    battery: float

    def sigma_of(self, compute: Compute, drive: Drive, resistance: Resistance) -> float | None:
        """Propagate to a number of the drive; None where it is not reached within the doubt."""
        moved = [self._half(compute, *pair) for pair in self._pairs(drive, resistance)]
        known = [half for half in moved if half is not None]
        if len(known) < len(moved):
            return None
        drag, rolling = known[:2]
        together = 2 * self.drag_rolling_correlation * drag * rolling
        return math.sqrt(max(math.fsum(half**2 for half in known) + together, 0.0))

    @staticmethod
    def _half(compute: Compute, more: _Case, less: _Case) -> float | None:
        above, below = compute(*more), compute(*less)
        if above is None or below is None or max(above, below) >= LONGEST_S:
            return None
        return (above - below) / 2

    def _pairs(self, drive: Drive, resistance: Resistance) -> Iterator[tuple[_Case, _Case]]:
        """Move each input up and down by its standard deviation, drag and rolling first."""
        for name, sigma in (
            ("drag_area_m2", self.drag_area_m2),
            ("rolling_resistance", self.rolling_resistance),
            ("mass_kg", self.mass_kg),
        ):
            value = getattr(resistance, name)
            more, less = (
                replace(resistance, **{name: max(value + sign * sigma, value / 10)})
                for sign in (1, -1)
            )
            yield (drive, more), (drive, less)
        for change, sigma in (
            (_with_gear, self.gear),
            (_with_motor, self.motor),
            (_with_battery, self.battery),
        ):
            yield (change(drive, 1 + sigma), resistance), (change(drive, 1 - sigma), resistance)


_Case = tuple[Drive, Resistance]


def doubt_of(vehicle: Vehicle, drive: Drive) -> Doubt:
    """Gather the standard deviations as catalog and measurements state them."""
    rolling, drag = rolling_of(vehicle, drive.tyre), vehicle.drag_area_m2
    return Doubt(
        mass_kg=mass_sigma_kg(vehicle),
        drag_area_m2=drag.value * drag.sigma_percent / 100,
        rolling_resistance=rolling.value * rolling.sigma_percent / 100,
        drag_rolling_correlation=vehicle.measured_road_load.drag_rolling_correlation,
        gear=drive.reduction.efficiency.sigma_percent / 100,
        motor=MOTOR_SIGMA_PERCENT / 100,
        battery=math.hypot(drive.motor.efficiency.sigma_percent, losses_of(drive.motor).rms_percent)
        / 100,
    )


def _with_gear(drive: Drive, factor: float) -> Drive:
    efficiency = drive.reduction.efficiency
    moved = efficiency.model_copy(update={"value": min(efficiency.value * factor, 1.0)})
    return replace(drive, reduction=drive.reduction.model_copy(update={"efficiency": moved}))


def _with_motor(drive: Drive, factor: float) -> Drive:
    motor = drive.motor
    names = ("peak_torque_nm", "peak_power_kw", "continuous_power_kw")
    return replace(
        drive,
        motor=motor.model_copy(update={name: getattr(motor, name) * factor for name in names}),
    )


def _with_battery(drive: Drive, factor: float) -> Drive:
    """Let the battery's power at the shaft be as doubtful as the losses on the way."""
    pack = drive.pack
    if pack is None:
        return drive
    stated_kw = pack.continuous_discharge_kw
    powers = {
        "peak_discharge_kw": pack.peak_discharge_kw * factor,
        "continuous_discharge_kw": None if stated_kw is None else stated_kw * factor,
    }
    return replace(drive, pack=pack.model_copy(update=powers))
