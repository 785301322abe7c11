"""What each fact is called on screens and papers, with its unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from configurator.catalog.models.rule import FactName


@dataclass(frozen=True)
class FactLabel:
    """The printed name of a fact, its unit and the decimals worth printing."""

    label: str
    unit: str
    decimals: int
    rounding: Literal["nearest", "down", "up"] = "nearest"
    """Where a promise is read from the number, it is rounded to the side that still holds."""


FACT_LABELS: dict[FactName, FactLabel] = {
    "price_gbp": FactLabel("Price with VAT", "GBP", 2),
    "kerb_mass_kg": FactLabel("Kerb mass", "kg", 0),
    "kerb_front_axle_kg": FactLabel("Front axle, kerb", "kg", 0),
    "kerb_rear_axle_kg": FactLabel("Rear axle, kerb", "kg", 0),
    "laden_mass_kg": FactLabel("Laden mass", "kg", 0),
    "laden_front_axle_kg": FactLabel("Front axle, laden, at most", "kg", 0),
    "laden_rear_axle_kg": FactLabel("Rear axle, laden, at most", "kg", 0),
    "front_axle_margin_kg": FactLabel("Margin on the front axle", "kg", 0, "down"),
    "rear_axle_margin_kg": FactLabel("Margin on the rear axle", "kg", 0, "down"),
    "payload_kg": FactLabel("Payload by the gross mass, beside the driver", "kg", 0, "down"),
    "rear_share_change_points": FactLabel("Change of the rear axle's share", "points", 1),
    "centre_of_gravity_height_m": FactLabel("Height of the centre of gravity, kerb", "m", 3),
    "left_share_percent": FactLabel("Left side's share of the kerb mass", "%", 1),
    "rollover_threshold_g": FactLabel("Tips over at, laden", "g", 2, "down"),
    "rear_braking_share_percent": FactLabel(
        "Braking that the rear axle carries at 0.8 g, driver alone", "%", 1, "down"
    ),
    "roof_load_kg": FactLabel("Load on the roof", "kg", 0, "up"),
    "nose_weight_kg": FactLabel("Nose weight on the tow ball", "kg", 0, "up"),
    "seats": FactLabel("Seats", "", 0),
    "range_low_km": FactLabel("Range, nine in ten beyond", "km", 0, "down"),
    "range_mid_km": FactLabel("Range, middle", "km", 0),
    "range_high_km": FactLabel("Range, one in ten beyond", "km", 0, "up"),
    "consumption_wh_per_km": FactLabel("Consumption", "Wh/km", 0),
    "charging_hours": FactLabel("Charging time", "h", 1),
    "hill_restart_percent": FactLabel("Steepest restart, fully laden", "%", 0, "down"),
    "cruise_power_margin_kw": FactLabel("Power to spare at 90 km/h", "kW", 1, "down"),
    "motorway_power_margin_kw": FactLabel("Power to spare at 110 km/h", "kW", 1, "down"),
    "top_speed_km_h": FactLabel("Top speed it can hold", "km/h", 0),
    "seconds_to_50_km_h": FactLabel("0 to 50 km/h", "s", 1, "up"),
    "seconds_to_60_mph": FactLabel("0 to 60 mph", "s", 1, "up"),
    "usable_energy_kwh": FactLabel("Usable energy", "kWh", 1),
    "pack_voltage_over_v": FactLabel("Pack above the inverter's greatest voltage", "V", 0),
    "pack_voltage_under_v": FactLabel("Pack below the inverter's least voltage", "V", 0),
    "charger_voltage_over_v": FactLabel("Pack above the charger's greatest voltage", "V", 0),
    "charger_voltage_under_v": FactLabel("Pack below the charger's least voltage", "V", 0),
    "low_voltage_margin_w": FactLabel("Margin on the 12 V supply", "W", 0, "down"),
    "cable_margin_a": FactLabel("High-voltage cables above the continuous current", "A", 0, "down"),
    "fuse_margin_a": FactLabel("Main fuse above 1.25 times that current", "A", 0, "down"),
    "fuse_over_cable_a": FactLabel("Main fuse above what its cables carry", "A", 0, "up"),
    "contactor_margin_a": FactLabel("Contactors above the continuous current", "A", 0, "down"),
    "rated_voltage_margin_v": FactLabel(
        "Cables, fuse and contactors above the full pack", "V", 0, "down"
    ),
    "pre_charge_seconds": FactLabel("Pre-charge", "s", 2),
    "bleed_seconds": FactLabel("Down to 60 V after switching off", "s", 0, "up"),
    "dc_inlet_voltage_over_v": FactLabel("Pack above the DC inlet's greatest voltage", "V", 0),
    "dc_inlet_voltage_under_v": FactLabel("Pack below the DC inlet's least voltage", "V", 0),
    "tyre_speed_margin_km_h": FactLabel("Tyre speed above the geared speed", "km/h", 0),
    "workshop_hours": FactLabel("Working hours", "h", 0),
    "handover_weeks": FactLabel("Order to earliest handover", "weeks", 0),
}


MOST_DECIMALS = 3


def with_unit(name: FactName, value: float) -> str:
    """Write a value with its unit as people read it.

    Examples
    --------
    >>> with_unit("kerb_mass_kg", 1342.4).split()
    ['1,342', 'kg']
    >>> with_unit("price_gbp", 48250.5)
    '£48,250.50'
    >>> with_unit("range_low_km", 149.8).split(), with_unit("range_high_km", 177.2).split()
    (['149', 'km'], ['178', 'km'])
    """
    label = FACT_LABELS[name]
    number = f"{_rounded(value, label):,.{label.decimals}f}".replace("-", "\N{MINUS SIGN}")
    return _beside_its_unit(name, number)


def telling_decimals(name: FactName, difference: float) -> int:
    """Tell with how many decimals to print values so that a difference between them shows.

    Examples
    --------
    >>> telling_decimals("kerb_mass_kg", 42.4), telling_decimals("kerb_mass_kg", 0.04)
    (0, 2)
    """
    decimals = FACT_LABELS[name].decimals
    while decimals < MOST_DECIMALS and round(difference, decimals) == 0:
        decimals += 1
    return decimals


def plain_with_unit(name: FactName, value: float, decimals: int) -> str:
    """Write a value with its unit, rounded to the nearest; it promises nothing.

    Examples
    --------
    >>> plain_with_unit("range_low_km", 71.94, 1).split(), plain_with_unit("price_gbp", -250.5, 2)
    (['71.9', 'km'], '£\N{MINUS SIGN}250.50')
    """
    number = f"{value:,.{decimals}f}".replace("-", "\N{MINUS SIGN}")
    return _beside_its_unit(name, number)


def _beside_its_unit(name: FactName, number: str) -> str:
    unit = FACT_LABELS[name].unit
    if unit == "GBP":
        return f"£{number}"
    return f"{number}\N{NO-BREAK SPACE}{unit}" if unit else number


def _rounded(value: float, label: FactLabel) -> float:
    step = 10.0**label.decimals
    # What a hair of arithmetic put beside a whole step is that step.
    near = round(value * step, 6)
    if label.rounding == "nearest":
        return value
    return (math.floor(near) if label.rounding == "down" else math.ceil(near)) / step
