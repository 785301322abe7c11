"""What a number of a vehicle, a part or a drive can be: the bounds of the models, and their words.

Wide on purpose: within them a number may still be wrong, outside them it is a slip of the keyboard
or another unit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

PRACTICE = "common practice, no source"
MEMORY = "from memory, wide"
HANDBOOK = "handbook values, from memory"

IMPLAUSIBLE = "implausible_value"
"""Kind of the refusal of an uncertain value."""


@dataclass(frozen=True, slots=True)
class Plausible:
    """The least and the greatest that a number can be, of what, and who says so."""

    least: float
    greatest: float
    unit: str
    of: str
    """Subject of the sentence "… have 0.006 to 0.03", in the plural."""
    source: str

    @property
    def in_words(self) -> str:
        """Say the range with its source.

        Examples
        --------
        >>> PLAUSIBLE["rolling_resistance"].in_words
        'tyres of road vehicles have 0.006 to 0.03 (handbook values, from memory)'
        """
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.of} have {self.least:g} to {self.greatest:g}{unit} ({self.source})"

    def holds(self, value: float) -> bool:
        """Tell whether a number can be."""
        return self.least <= value <= self.greatest


def _efficiency(of: str, least: float, greatest: float = 0.99) -> Plausible:
    return Plausible(least, greatest, "", of, MEMORY)


_AXLES = Plausible(100, 4000, "kg", "axles of light vehicles", PRACTICE)
_MEASURED_AXLES = Plausible(100, 5000, "kg", "axles of light vehicles", PRACTICE)
_TEMPERATURES = Plausible(-30, 45, "°C", "days of driving", PRACTICE)
_PACK_VOLTAGES = Plausible(20, 1000, "V", "traction packs", "UN R100: class B up to 1500 V")
_DOUBTS = Plausible(
    0, 60, "%", "standard deviations that say anything", "more than 60 % knows next to nothing"
)

PLAUSIBLE: dict[str, Plausible] = {
    # Vehicle
    "wheelbase_m": Plausible(1.2, 5, "m", "cars and vans", PRACTICE),
    "track_m": Plausible(0.8, 2.2, "m", "cars and vans", PRACTICE),
    "length_m": Plausible(2, 8, "m", "cars and vans", PRACTICE),
    "width_m": Plausible(1, 2.6, "m", "cars and vans", "Directive 96/53/EC: 2.55 m; from memory"),
    "height_m": Plausible(0.8, 3.5, "m", "cars and vans", PRACTICE),
    "front_overhang_m": Plausible(0.1, 2, "m", "cars and vans", PRACTICE),
    "donor_front_axle_kg": _AXLES,
    "donor_rear_axle_kg": _AXLES,
    "front_axle_limit_kg": _MEASURED_AXLES,
    "rear_axle_limit_kg": _MEASURED_AXLES,
    "gross_mass_limit_kg": Plausible(300, 8000, "kg", "cars and vans", PRACTICE),
    "mass_sigma_kg": Plausible(1, 300, "kg", "computed kerb masses in doubt", PRACTICE),
    "donor_cg_height_m": Plausible(0.25, 1.5, "m", "empty cars and vans", MEMORY),
    "drag_area_m2": Plausible(0.3, 6, "m²", "road vehicles of up to 3.5 t", HANDBOOK),
    "auxiliary_power_w": Plausible(0, 3000, "W", "12 V circuits on the average", PRACTICE),
    "cabin_heat_loss_w_per_k": Plausible(0, 400, "W/K", "cabins", MEMORY),
    "cabin_heat_capacity_kj_per_k": Plausible(0, 500, "kJ/K", "cabins", MEMORY),
    "recovery_full_from_km_h": Plausible(0, 40, "km/h", "motors that brake", PRACTICE),
    "base_low_voltage_load_w": Plausible(0, 5000, "W", "12 V circuits", PRACTICE),
    # Tyre and wheel
    "rolling_resistance": Plausible(0.006, 0.03, "", "tyres of road vehicles", HANDBOOK),
    "rolling_growth_percent": Plausible(0, 100, "%", "tyres up to 100 km/h", MEMORY),
    "rolling_radius_m": Plausible(0.2, 0.6, "m", "tyres of cars and vans", "ETRTO; from memory"),
    "front_pressure_bar": Plausible(0.8, 8, "bar", "tyres of cars and vans", PRACTICE),
    "rear_pressure_bar": Plausible(0.8, 8, "bar", "tyres of cars and vans", PRACTICE),
    "rating_kg": Plausible(50, 3000, "kg", "wheels of cars and vans", PRACTICE),
    # Battery
    "capacity_kwh": Plausible(1, 200, "kWh", "packs of cars and vans", PRACTICE),
    "pack_capacity_kwh": Plausible(1, 200, "kWh", "packs of cars and vans", PRACTICE),
    "usable_percent": Plausible(30, 100, "%", "packs", PRACTICE),
    "capacity_sigma_percent": Plausible(0, 30, "%", "capacities in doubt", PRACTICE),
    "aged_capacity_percent": Plausible(30, 100, "%", "packs still in use", MEMORY),
    "aged_resistance_percent": Plausible(100, 400, "%", "packs still in use", MEMORY),
    "nominal_voltage_v": _PACK_VOLTAGES,
    "full_voltage_v": _PACK_VOLTAGES,
    "empty_voltage_v": _PACK_VOLTAGES,
    "resistance_ohm": Plausible(0.0005, 2, "ohm", "traction packs", MEMORY),
    "peak_discharge_kw": Plausible(0.5, 600, "kW", "traction packs", PRACTICE),
    "continuous_discharge_kw": Plausible(0.5, 400, "kW", "traction packs", PRACTICE),
    "peak_charge_kw": Plausible(0.5, 400, "kW", "traction packs", PRACTICE),
    # Drive
    "peak_power_kw": Plausible(1, 500, "kW", "motors of cars and vans", PRACTICE),
    "continuous_power_kw": Plausible(1, 400, "kW", "motors of cars and vans", PRACTICE),
    "peak_torque_nm": Plausible(1, 2000, "Nm", "motors of cars and vans", PRACTICE),
    "max_speed_rpm": Plausible(500, 30_000, "rpm", "motors of cars and vans", PRACTICE),
    "no_load_loss_w": Plausible(0, 5000, "W", "motors of cars and vans", MEMORY),
    "no_load_loss_sigma_percent": _DOUBTS,
    "sigma_percent": _DOUBTS,
    "motor.efficiency": _efficiency("motors with inverter", 0.5),
    "recovery_efficiency": _efficiency("motors that brake", 0.0),
    "reduction.efficiency": _efficiency("reduction gears", 0.6, 0.999),
    "charger.efficiency": _efficiency("chargers", 0.6),
    "converter.efficiency": _efficiency("12 V converters", 0.6),
    "ac_power_kw": Plausible(0.5, 50, "kW", "on-board chargers", PRACTICE),
    # Cabin
    "max_heat_kw": Plausible(0.05, 20, "kW", "cabin heaters", PRACTICE),
    "coefficient_of_performance": Plausible(0.3, 8, "", "heaters and heat pumps", HANDBOOK),
    "cooling_coefficient": Plausible(0.3, 8, "", "cooling circuits", HANDBOOK),
    # Driving and charging
    "temperature_c": _TEMPERATURES,
    "pack_c": _TEMPERATURES,
    "battery_c": _TEMPERATURES,
    "cabin_c": Plausible(5, 28, "°C", "cabins people sit in", PRACTICE),
    "altitude_m": Plausible(-100, 3000, "m", "roads", PRACTICE),
    "steady_km_h": Plausible(5, 150, "km/h", "steady drives of old vehicles", PRACTICE),
    "cold_morning_c": _TEMPERATURES,
    "pence_per_kwh": Plausible(1, 300, "p/kWh", "electricity tariffs", PRACTICE),
    "max_power_kw": Plausible(0.5, 400, "kW", "charging points", PRACTICE),
    "dc_inlet.max_power_kw": Plausible(1, 400, "kW", "DC inlets", PRACTICE),
    # Measured
    "front_axle_kg": _MEASURED_AXLES,
    "rear_axle_kg": _MEASURED_AXLES,
}
"""Field, or kind and field where kinds differ → what it can be."""


_NUMBER = re.compile(r"-?\d+(\.\d+)?")
_HAS_OWN_BOUNDS = {"effects", "trailer"}
"""What is added to a vehicle is bounded otherwise than the vehicle."""


class _Uncertain(Protocol):
    @property
    def value(self) -> float: ...


def within(name: str) -> Any:
    """Bound a number of a model by what it can be."""
    plausible = PLAUSIBLE[name]
    return Field(ge=plausible.least, le=plausible.greatest)


def value_within(name: str) -> AfterValidator:
    """Bound the value of an uncertain value by what it can be."""
    plausible = PLAUSIBLE[name]

    def check(uncertain: _Uncertain) -> _Uncertain:
        if not plausible.holds(uncertain.value):
            bounds = {"ge": plausible.least, "le": plausible.greatest}
            message = "value should be {ge} to {le}"
            raise PydanticCustomError(IMPLAUSIBLE, message, bounds)
        return uncertain

    return AfterValidator(check)


def name_of_number(keys: Sequence[str | int]) -> str:
    """Find the field that a number belongs to, by the way to it.

    Examples
    --------
    >>> name_of_number(("rolling_resistance", "value"))
    'rolling_resistance'
    >>> name_of_number(("coefficient_of_performance", "-5"))
    'coefficient_of_performance'
    """
    names = [key for key in keys if isinstance(key, str) and not _NUMBER.fullmatch(key)]
    if names and names[-1] == "value":
        names.pop()
    return names[-1] if names else ""


def plausible_at(entry: object, keys: Sequence[str | int]) -> Plausible | None:
    """Find what a number of an entry can be; None where nothing is said about it.

    Parameters
    ----------
    entry : object
        As it was read; a part tells its kind.
    keys : sequence of str or int
        The way to the number.

    Examples
    --------
    >>> plausible_at({"kind": "motor"}, ("efficiency", "value")).of
    'motors with inverter'
    >>> plausible_at({}, ("effects", "drag_area_m2")) is None
    True
    """
    if _HAS_OWN_BOUNDS & set(keys):
        return None
    name = name_of_number(keys)
    kind = entry.get("kind") if isinstance(entry, Mapping) else None
    return PLAUSIBLE.get(f"{kind}.{name}") or PLAUSIBLE.get(name)


def slip_of_the_point(value: float, plausible: Plausible) -> float | None:
    """Find the number that is meant when the decimal point slipped; None where none comes near.

    Examples
    --------
    >>> slip_of_the_point(0.13, PLAUSIBLE["rolling_resistance"])
    0.013
    >>> slip_of_the_point(400, PLAUSIBLE["capacity_kwh"])
    40.0
    >>> slip_of_the_point(0.9, PLAUSIBLE["rolling_resistance"])
    0.009
    >>> slip_of_the_point(-5, PLAUSIBLE["capacity_kwh"]) is None
    True
    """
    for places in (1, -1, 2, -2):
        moved = round(value / 10**places, 9)
        if moved and plausible.holds(moved):
            return moved
    return None
