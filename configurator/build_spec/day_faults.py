"""Read a customer's day as a form sends it: every entry that cannot be, with what can."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from configurator.catalog.models.day import CustomersDay, Trailer
from configurator.catalog.plausible import PLAUSIBLE
from configurator.errors import ChoiceError, Fault

ENTRY_LABELS: dict[str, tuple[str, str]] = {
    "town_km": ("In town", "km"),
    "country_km": ("On country roads", "km"),
    "motorway_km": ("On the motorway", "km"),
    "motorway_km_h": ("Speed on the motorway", "km/h"),
    "climbed_m": ("Climbed in all", "m"),
    "descended_m": ("Descended in all", "m"),
    "mass_kg": ("Trailer with its load", "kg"),
    "drag_area_m2": ("Drag area of the trailer", "m²"),
    "rolling_resistance": ("Rolling resistance of the trailer", ""),
    "load": ("Load", ""),
    "load_kg": ("People and things besides the driver", "kg"),
    "temperature_c": ("Outside at the start", "°C"),
    "battery_c": ("Battery at the start", "°C"),
    "cabin_c": ("Wished in the cabin", "°C"),
    "altitude_m": ("Above the sea", "m"),
    "cold_starts": ("Starts with a cold cabin", ""),
    "preheats": ("Cabin warmed from the cable", ""),
    "charging_source": ("Where it charges halfway", ""),
    "hours_charging": ("Charging halfway", "h"),
    "reserve_percent": ("Kept in reserve", "%"),
}
"""Entry → what people see it called, and its unit."""


def read_day(written: Mapping[str, object]) -> CustomersDay:
    """Read a day as a form sends it.

    Parameters
    ----------
    written : mapping
        Entries of a `CustomersDay`; what is left out is as usual.

    Returns
    -------
    CustomersDay
        The day.

    Raises
    ------
    ChoiceError
        With a fault of code S014 for every entry that cannot be.

    Examples
    --------
    >>> read_day({"town_km": 30}).distance_km
    30.0
    >>> try:
    ...     read_day({"town_km": 3000})
    ... except ChoiceError as error:
    ...     print(error.faults[0].what)
    it is 3000; 0 to 1000 km can be
    """
    try:
        return CustomersDay.model_validate(dict(written))
    except ValidationError as error:
        raise ChoiceError([_fault(details) for details in error.errors()]) from error


def bounds_of(name: str) -> tuple[float, float]:
    """Tell the least and the greatest number that an entry may have.

    Examples
    --------
    >>> bounds_of("reserve_percent")
    (0.0, 60.0)
    """
    if name in PLAUSIBLE and name in CustomersDay.model_fields:
        return PLAUSIBLE[name].least, PLAUSIBLE[name].greatest
    model: type[BaseModel] = CustomersDay if name in CustomersDay.model_fields else Trailer
    found: dict[str, float] = {}
    for bound in model.model_fields[name].metadata:
        for side, names in (("least", ("ge", "gt")), ("most", ("le", "lt"))):
            for attribute in names:
                if hasattr(bound, attribute):
                    found[side] = float(getattr(bound, attribute))
    return found["least"], found["most"]


def _fault(details: ErrorDetails) -> Fault:
    name = str(details["loc"][-1]) if details["loc"] else ""
    value: Any = details["input"]
    if name not in ENTRY_LABELS:
        what = str(details.get("ctx", {}).get("error", details["msg"]))
        return Fault("S014", "Your day", what, "Correct what does not go together.")
    label, unit = ENTRY_LABELS[name]
    shown = str(value)[:40]
    if value == "":
        return Fault("S014", label, "nothing stands there", "Write a number, 0 for none.")
    if details["type"] in {"greater_than", "greater_than_equal", "less_than", "less_than_equal"}:
        least, most = bounds_of(name)
        can_be = f"{least:g} to {most:g} {unit} can be".rstrip()
        if name in PLAUSIBLE and "trailer" not in details["loc"]:
            can_be = PLAUSIBLE[name].in_words
        what = f"it is {shown}; {can_be}"
        return Fault("S014", label, what, "Write a number in between.")
    return Fault("S014", label, f'"{shown}" cannot be read', "Write one finite number.")
