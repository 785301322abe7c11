"""A customer's day in words: under which conditions, and what was taken for granted."""

from __future__ import annotations

from configurator.build_spec.day_cold import cells_of, charges_cold
from configurator.build_spec.day_result import Road
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.day import CustomersDay

ROAD_LABELS: dict[Road, str] = {
    "town": "In town",
    "country": "On country roads",
    "motorway": "On the motorway",
}


CHARGES = (
    "It charges halfway, with a battery as cold as at the start, and only as far as the battery "
    "takes the full charging power."
)
CANNOT_CHARGE = (
    "It cannot charge halfway: nothing that is chosen takes this supply, or the battery is too "
    "cold to be charged."
)
COLD_CHARGE = (
    "At {cells} the battery takes less than when it is warm, and below its cell maker's limit it "
    "must not be charged: it may refuse until it is warm enough."
)


def conditions_of(day: CustomersDay, source: ChargingSource | None) -> str:
    """Say under which conditions a day is driven, in one line.

    Examples
    --------
    >>> conditions_of(CustomersDay(town_km=12, temperature_c=-5), None)
    '12 km in town, driver only, −5 °C outside, 20 °C inside, 10 % kept in reserve'
    """
    parts = [
        *_roads(day),
        f"{day.climbed_m:g} m up and {day.descended_m:g} m down" if _is_hilly(day) else "",
        _load(day),
        f"trailer of {day.trailer.mass_kg:,.0f} kg" if day.trailer else "",
        f"{degrees(day.temperature_c)} outside",
        f"battery at {degrees(day.battery_c)}" if day.battery_c is not None else "",
        f"{degrees(day.cabin_c)} inside{', warmed from the cable' if day.preheats else ''}",
        f"{day.altitude_m:g} m above the sea" if day.altitude_m else "",
        _charging(day, source),
        f"{day.reserve_percent:g} % kept in reserve",
    ]
    return ", ".join(part for part in parts if part)


def assumptions_of(
    day: CustomersDay, catalog: Catalog, *, can_charge: bool = True
) -> tuple[str, ...]:
    """Say what the computation takes for granted."""
    roads = catalog.workshop.day
    labels = {cycle.id: cycle.label for cycle in catalog.cycles}
    said = ["The day begins with a full battery."]
    if day.town_km:
        said.append(f"Town is driven like the cycle {labels[roads.town]}.")
    if day.country_km:
        said.append(f"Country roads are driven like the cycle {labels[roads.country]}.")
    if day.motorway_km:
        said.append(f"The motorway is driven at a steady {day.motorway_km_h:g} km/h.")
    if _is_hilly(day):
        said.append(
            f"Hills rise and fall by {roads.hill_percent:g} % and are spread over all roads; "
            "common practice, no source."
        )
    if day.trailer:
        said.append(
            f"The trailer adds {day.trailer.drag_area_m2:g} m² of drag area and rolls with "
            f"{day.trailer.rolling_resistance:g}; common practice, no source."
        )
    if day.hours_charging:
        said.append(CHARGES if can_charge else CANNOT_CHARGE)
        if can_charge and charges_cold(day):
            said.append(COLD_CHARGE.format(cells=degrees(cells_of(day))))
    return tuple(said)


def degrees(celsius: float) -> str:
    """Write a temperature.

    Examples
    --------
    >>> degrees(-5.0)
    '−5 °C'
    """
    return f"{celsius:g} °C".replace("-", "\N{MINUS SIGN}")


def _roads(day: CustomersDay) -> list[str]:
    return [
        words
        for km, words in (
            (day.town_km, f"{day.town_km:g} km in town"),
            (day.country_km, f"{day.country_km:g} km on country roads"),
            (
                day.motorway_km,
                f"{day.motorway_km:g} km on the motorway at {day.motorway_km_h:g} km/h",
            ),
        )
        if km
    ]


def _is_hilly(day: CustomersDay) -> bool:
    return bool(day.climbed_m or day.descended_m)


def _load(day: CustomersDay) -> str:
    if day.load_kg is not None:
        return f"driver and {day.load_kg:,.0f} kg"
    return "driver only" if day.load == "driver" else "fully laden"


def _charging(day: CustomersDay, source: ChargingSource | None) -> str:
    if not day.hours_charging:
        return ""
    where = source.label if source else "a place the catalog does not have"
    return f"{day.hours_charging:g} h of charging halfway ({where})"
