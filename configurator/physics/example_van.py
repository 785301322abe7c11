"""A plausible van for the examples in this room's documentation."""

from __future__ import annotations

from configurator.physics.road_vehicle import RoadVehicle

EXAMPLE_VAN = RoadVehicle(
    mass_kg=1800.0,
    drag_area_m2=1.2,
    rolling_resistance=0.013,
    drive_efficiency=0.92 * 0.90,
    no_load_loss_w=0.0,
    recovery_efficiency=0.75,
    recovery_share=0.6,
    auxiliary_power_w=270.0,
    converter_efficiency=0.9,
    cabin_heat_loss_w_per_k=70.0,
    heater_max_heat_w=4000.0,
    heater_cop=((-10.0, 1.5), (10.0, 3.0)),
    usable_energy_wh=40_000.0,
    resistance_ohm=0.0,
    nominal_voltage_v=350.0,
    peak_power_w=60_000.0,
    mass_sigma_kg=30.0,
    drag_area_sigma_percent=8.0,
    rolling_resistance_sigma_percent=10.0,
    drive_efficiency_sigma_percent=4.0,
    auxiliary_power_sigma_percent=20.0,
    cabin_heat_loss_sigma_percent=20.0,
    usable_energy_sigma_percent=3.0,
)
"""Rounded values of nobody's van."""
