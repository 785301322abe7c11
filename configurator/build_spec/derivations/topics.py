"""Under which topic each fact is worked out, in reading order."""

from __future__ import annotations

from configurator.catalog.models.rule import FactName

TOPICS: dict[str, tuple[FactName, ...]] = {
    "Price": ("price_gbp",),
    "Plan": ("workshop_hours", "handover_weeks"),
    "Masses": (
        "kerb_mass_kg",
        "laden_mass_kg",
        "payload_kg",
        "roof_load_kg",
        "nose_weight_kg",
        "seats",
    ),
    "Axles": (
        "kerb_front_axle_kg",
        "kerb_rear_axle_kg",
        "laden_front_axle_kg",
        "laden_rear_axle_kg",
        "front_axle_margin_kg",
        "rear_axle_margin_kg",
    ),
    "Balance": (
        "rear_share_change_points",
        "centre_of_gravity_height_m",
        "left_share_percent",
        "rollover_threshold_g",
        "rear_braking_share_percent",
    ),
    "Range and consumption": (
        "range_low_km",
        "range_mid_km",
        "range_high_km",
        "consumption_wh_per_km",
    ),
    "Charging": ("charging_hours",),
    "What the drive can do": (
        "hill_restart_percent",
        "cruise_power_margin_kw",
        "motorway_power_margin_kw",
        "top_speed_km_h",
        "seconds_to_50_km_h",
        "seconds_to_60_mph",
        "tyre_speed_margin_km_h",
    ),
    "Battery and electrical set": (
        "usable_energy_kwh",
        "pack_voltage_over_v",
        "pack_voltage_under_v",
        "charger_voltage_over_v",
        "charger_voltage_under_v",
        "dc_inlet_voltage_over_v",
        "dc_inlet_voltage_under_v",
        "low_voltage_margin_w",
        "cable_margin_a",
        "fuse_margin_a",
        "fuse_over_cable_a",
        "contactor_margin_a",
        "rated_voltage_margin_v",
        "pre_charge_seconds",
        "bleed_seconds",
    ),
}


def topic_of(name: FactName) -> str:
    """Find the topic of a fact.

    Examples
    --------
    >>> topic_of("rear_axle_margin_kg")
    'Axles'
    """
    return next(topic for topic, names in TOPICS.items() if name in names)
