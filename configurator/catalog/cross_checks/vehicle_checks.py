"""Whether each vehicle names what exists and whether its measures agree."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.fitted import fits_faults
from configurator.catalog.draft import Draft
from configurator.catalog.models.vehicle import PlacedItem, Vehicle, Work
from configurator.catalog.models_from_yaml import Entry
from configurator.errors import Fault

REACH_BEYOND_THE_BODY_M = 0.6
"""Racks, tow balls and mirrors stand out this far at most."""


def vehicle_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what vehicles name that does not exist."""
    templates = names.known_survey_templates(draft)
    for entry in draft.vehicles:
        vehicle, at = entry.value, names.place(entry)
        places = names.known_places(draft, vehicle.id)
        yield from names.named(at.at("survey_template"), vehicle.survey_template, templates)
        yield from names.named(at.at("driver_place"), vehicle.driver_place, places)
        yield from names.named(at.at("tow_eye"), vehicle.tow_eye, places)
        yield from names.all_named(at.at("lifting_points"), vehicle.lifting_points, places)
        for key in ("takes_out", "puts_in", "carries"):
            yield from placed_faults(at.at(key), getattr(vehicle, key), places)
        yield from fits_faults(draft, at.at("fits"), vehicle.fits)


def base_line_faults(draft: Draft) -> Iterator[Fault]:
    """Yield base lines with unknown trades or stages, or a lead time that nobody waits for."""
    stages = names.known_stages(draft)
    for entry in draft.vehicles:
        for number, line in enumerate(entry.value.base_lines):
            at = names.place(entry, "base_lines", number)
            yield from work_faults(draft, at.at("work"), line.work)
            yield from names.named(at.at("needed_by"), line.needed_by, stages)
            yield from lead_time_faults(at, line.lead_weeks, line.needed_by)


def placed_faults(
    at: names.Place, items: Sequence[PlacedItem], places: names.Known
) -> Iterator[Fault]:
    """Yield items at places that the vehicle does not have."""
    for number, item in enumerate(items):
        yield from names.named(at.at(number, "place"), item.place, places)


def work_faults(draft: Draft, at: names.Place, work: Sequence[Work]) -> Iterator[Fault]:
    """Yield work of trades or in stages that do not exist."""
    trades, stages = names.known_trades(draft), names.known_stages(draft)
    for number, item in enumerate(work):
        yield from names.named(at.at(number, "trade"), item.trade, trades)
        yield from names.named(at.at(number, "stage"), item.stage, stages)


def lead_time_faults(at: names.Place, lead_weeks: int, needed_by: str | None) -> Iterator[Fault]:
    """Yield a fault for a lead time without the stage that needs the part."""
    if lead_weeks > 0 and needed_by is None:
        what = f"{at.title} has a lead time of {lead_weeks} weeks but no needed_by"
        yield Fault(
            "C064",
            at.at("lead_weeks").where,
            f"{what}; the plan must know which stage waits",
            'Add "needed_by:" with the stage.',
        )


def measure_faults(draft: Draft) -> Iterator[Fault]:
    """Yield weights and measures of a vehicle that contradict each other."""
    for entry in draft.vehicles:
        for key, what, remedy in _contradictions(entry.value):
            yield Fault("C075", entry.where(key), what, remedy)
        yield from _places_outside(entry)


def _contradictions(vehicle: Vehicle) -> Iterator[tuple[str, str, str]]:
    for axle in ("front", "rear"):
        donor = getattr(vehicle, f"donor_{axle}_axle_kg")
        limit = getattr(vehicle, f"{axle}_axle_limit_kg")
        if donor > limit:
            what = (
                f"the donor's {axle} axle weighs {donor:g} kg, more than its limit of {limit:g} kg"
            )
            yield f"donor_{axle}_axle_kg", what, "Look both up again."
    donor_kg = vehicle.donor_front_axle_kg + vehicle.donor_rear_axle_kg
    axles_kg = vehicle.front_axle_limit_kg + vehicle.rear_axle_limit_kg
    gross = f"gross_mass_limit_kg is {vehicle.gross_mass_limit_kg:g}"
    if vehicle.gross_mass_limit_kg > axles_kg:
        what = f"{gross}, more than both axles may carry ({axles_kg:g})"
        yield "gross_mass_limit_kg", what, "Look the three limits up again."
    if vehicle.gross_mass_limit_kg < donor_kg:
        what = f"{gross}, less than the empty donor ({donor_kg:g})"
        yield "gross_mass_limit_kg", what, "Look the weights up again."
    if sum(item.mass_kg for item in vehicle.takes_out) >= donor_kg:
        what = "what is taken out weighs as much as the whole donor"
        yield "takes_out", what, "Look the masses up again; they are in kilograms."
    if vehicle.front_overhang_m + vehicle.wheelbase_m >= vehicle.length_m:
        what = f"length_m is {vehicle.length_m:g}, but overhang and wheelbase alone reach that far"
        yield "length_m", what, "Measure the three again."


def _places_outside(entry: Entry[Vehicle]) -> Iterator[Fault]:
    vehicle, reach = entry.value, REACH_BEYOND_THE_BODY_M
    front = -vehicle.front_overhang_m - reach
    rear = vehicle.length_m - vehicle.front_overhang_m + reach
    for name, spot in vehicle.places.items():
        if not front <= spot.x_m <= rear:
            key, value, bounds = "x_m", spot.x_m, f"from {front:g} to {rear:g}"
        elif abs(spot.y_m) > vehicle.width_m / 2 + reach:
            side = vehicle.width_m / 2 + reach
            key, value, bounds = "y_m", spot.y_m, f"from {-side:g} to {side:g}"
        elif spot.z_m > vehicle.height_m + reach:
            key, value, bounds = "z_m", spot.z_m, f"at most {vehicle.height_m + reach:g}"
        else:
            continue
        what = f'place "{name}" has {key} {value:g}, outside of the vehicle ({bounds})'
        remedy = "x is behind the front axle, y to the right, z above the ground, in metres."
        yield Fault("C075", entry.where("places", name, key), what, remedy)
