"""What the energy model is told of a build: from its components, effects and mass."""

from __future__ import annotations

import math
from collections.abc import Mapping

from configurator.build_spec.drive_facts import Surroundings
from configurator.build_spec.drive_state import DriveState
from configurator.build_spec.driven_conditions import learnt_in
from configurator.catalog.models.component import (
    Converter,
    Heater,
    Motor,
    Pack,
    Reduction,
    Tyre,
)
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.vehicle import Vehicle
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.drive_losses import DriveLosses, drive_losses
from configurator.physics.pack_condition import PackCondition, pack_condition
from configurator.physics.road_vehicle import RoadVehicle
from configurator.physics.vehicle_table import Load
from configurator.units import KM_H_PER_M_S

RECOVERY_SHARE = {"front": 0.7, "rear": 0.5}
"""Share of the braking that the driven axle can do. Common practice, no source: the front axle
carries most of the braking; the rest is left to the friction brakes for stability."""

RECOVERY_FRICTION = 0.6
"""Between tyres and a wet road; what the driven axle can brake before it slides is this by its
share of the weight. Common practice, no source."""

DRIVER_HEAT_W = 100.0
"""Warmth of the driver in the cabin; the others are not counted on. Common practice, no source."""

CONVERTER_EFFICIENCY_WITHOUT = 0.90
"""Of the 12 V supply where no converter is named; common practice, no source."""


def road_vehicle(around: Surroundings, case: DrivingCase, state: DriveState) -> RoadVehicle | None:
    """Assemble the inputs of the energy model; None where a needed part is missing."""
    parts = around.parts(state)
    pack, motor = parts.get("pack", Pack), parts.get("motor", Motor)
    reduction, tyre = parts.get("reduction", Reduction), parts.get("tyre", Tyre)
    if pack is None or motor is None or reduction is None or tyre is None:
        return None
    vehicle = around.offer.vehicle
    gear = reduction.efficiency.value
    heater, converter = parts.get("heater", Heater), parts.get("converter", Converter)
    condition, losses = condition_of(pack, case), losses_of(motor)
    measured = vehicle.measured_road_load
    learnt = learnt_in(measured, case)
    return RoadVehicle(
        **load_of(around, tyre, state)._asdict(),
        rolling_growth=tyre.rolling_growth_percent / 100,
        drive_efficiency=losses.efficiency * gear,
        no_load_loss_w=losses.no_load_w,
        load_loss_per_w=losses.per_w / gear**2,
        recovery_efficiency=motor.recovery_efficiency.value * gear,
        recovery_share=RECOVERY_SHARE[vehicle.driven_axle],
        recovery_grip=RECOVERY_FRICTION * driven_share(vehicle),
        recovery_full_from_m_s=vehicle.recovery_full_from_km_h / KM_H_PER_M_S,
        converter_efficiency=converter.efficiency if converter else CONVERTER_EFFICIENCY_WITHOUT,
        cabin_heat_capacity_j_per_k=1000 * vehicle.cabin_heat_capacity_kj_per_k,
        cabin_gain_w=DRIVER_HEAT_W,
        heater_max_heat_w=heater.max_heat_kw * 1000 if heater else 0.0,
        heater_cop=_points(heater.coefficient_of_performance if heater else {}),
        cooler_max_heat_w=heater.max_cooling_kw * 1000 if heater else 0.0,
        cooler_cop=_points(heater.cooling_coefficient if heater else {}),
        usable_energy_wh=10
        * pack.capacity_kwh
        * pack.usable_percent
        * condition.capacity_percent
        / 100,
        resistance_ohm=pack.resistance_ohm * condition.resistance_percent / 100,
        nominal_voltage_v=pack.nominal_voltage_v,
        peak_power_w=1000
        * gear
        * min(motor.peak_power_kw, pack.peak_discharge_kw * motor.efficiency.value),
        mass_sigma_kg=mass_sigma_kg(vehicle),
        drag_area_sigma_percent=vehicle.drag_area_m2.sigma_percent,
        rolling_resistance_sigma_percent=rolling_of(vehicle, tyre).sigma_percent,
        drag_rolling_correlation=measured.drag_rolling_correlation,
        consumption_factor=learnt.factor,
        doubt_left=learnt.doubt_left,
        drive_efficiency_sigma_percent=math.hypot(
            motor.efficiency.sigma_percent, reduction.efficiency.sigma_percent, losses.rms_percent
        ),
        recovery_efficiency_sigma_percent=motor.recovery_efficiency.sigma_percent,
        no_load_loss_sigma_percent=motor.no_load_loss_sigma_percent,
        auxiliary_power_sigma_percent=vehicle.auxiliary_power_w.sigma_percent,
        cabin_heat_loss_sigma_percent=vehicle.cabin_heat_loss_w_per_k.sigma_percent,
        usable_energy_sigma_percent=math.hypot(
            pack.capacity_sigma_percent, condition.capacity_sigma_percent
        ),
    )


def mass_sigma_kg(vehicle: Vehicle) -> float:
    """Tell the standard deviation of the kerb mass, weighed or computed [kg]."""
    weighed = vehicle.measured_road_load.weighed_sigma_kg
    return vehicle.mass_sigma_kg if weighed is None else weighed


def condition_of(pack: Pack, case: DrivingCase) -> PackCondition:
    """Tell what the temperature and the age of a driving case leave of a pack."""
    aged = case.battery == "aged"
    return pack_condition(
        temperature_c=case.temperature_c if case.pack_c is None else case.pack_c,
        capacity_at=pack.capacity_percent_at,
        resistance_at=pack.resistance_percent_at,
        chemistry=pack.chemistry,
        aged_capacity_percent=pack.aged_capacity_percent if aged else 100.0,
        aged_capacity_sigma_percent=pack.aged_capacity_sigma_percent if aged else 0.0,
        aged_resistance_percent=pack.aged_resistance_percent if aged else 100.0,
    )


def losses_of(motor: Motor) -> DriveLosses:
    """Tell the losses of a motor with its inverter by the power at its shaft."""
    if motor.efficiency_by_load:
        return drive_losses(1000 * motor.peak_power_kw, motor.efficiency_by_load)
    return DriveLosses(motor.no_load_loss_w, motor.efficiency.value, 0.0, 0.0)


def driven_share(vehicle: Vehicle) -> float:
    """Tell the share of the donor's weight on the driven axle."""
    driven_kg = (
        vehicle.donor_front_axle_kg
        if vehicle.driven_axle == "front"
        else vehicle.donor_rear_axle_kg
    )
    return driven_kg / (vehicle.donor_front_axle_kg + vehicle.donor_rear_axle_kg)


def rolling_of(vehicle: Vehicle, tyre: Tyre) -> UncertainValue:
    """Give the rolling resistance as measured on the vehicle, else the tyre's."""
    return vehicle.measured_road_load.rolling_resistance or tyre.rolling_resistance


def load_of(around: Surroundings, tyre: Tyre, state: DriveState) -> Load:
    """Add what the options of a state change to what the vehicle and its tyres have."""
    vehicle = around.offer.vehicle
    drag, rolling, heat_loss, auxiliary = state.effects
    return Load(
        mass_kg=state.mass_g / 1000 + vehicle.measured_road_load.heavier_kg,
        drag_area_m2=vehicle.drag_area_m2.value + drag,
        rolling_resistance=rolling_of(vehicle, tyre).value + rolling,
        auxiliary_power_w=max(0.0, vehicle.auxiliary_power_w.value + auxiliary),
        cabin_heat_loss_w_per_k=max(0.0, vehicle.cabin_heat_loss_w_per_k.value + heat_loss),
    )


def _points(by_temperature: Mapping[int, float]) -> tuple[tuple[float, float], ...]:
    return tuple(sorted((float(t), cop) for t, cop in by_temperature.items()))
