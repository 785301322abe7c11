"""How cold the battery of a customer's day is, and whether charging it asks for care."""

from __future__ import annotations

from configurator.catalog.models.day import CustomersDay

CAREFUL_UP_TO_C = 5.0
"""At cells no warmer than this the caution on charging them cold is told [°C]. Common practice, no
source: a little above where many cells may not be charged."""


def cells_of(day: CustomersDay) -> float:
    """Tell how warm the cells of a day are at its start [°C].

    Examples
    --------
    >>> cells_of(CustomersDay(town_km=9, temperature_c=-8))
    -8.0
    """
    return day.temperature_c if day.battery_c is None else day.battery_c


def charges_cold(day: CustomersDay) -> bool:
    """Tell whether charging the cells of a day asks for care, by how cold they are.

    Examples
    --------
    >>> charges_cold(CustomersDay(town_km=9, temperature_c=-8))
    True
    >>> charges_cold(CustomersDay(town_km=9, temperature_c=-8, battery_c=15))
    False
    """
    return cells_of(day) <= CAREFUL_UP_TO_C
