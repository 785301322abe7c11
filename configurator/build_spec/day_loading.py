"""A day's load placed in the vehicle, against the gross mass and what each axle may carry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.day_result import WHOLE, DayLimit
from configurator.build_spec.loadings import AxleName, Stage, carried_items, stages_of
from configurator.build_spec.sentences import listed
from configurator.build_spec.sum_facts import least_axle_limit
from configurator.build_spec.weight_placing import Placing, placed_load
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.day import CustomersDay
from configurator.catalog.models.vehicle import PlacedItem, Vehicle

PART_WORDS = {
    "axle": "its own limit",
    "tyre": "what its tyres bear",
    "wheel": "what its wheels bear",
}


def day_placings(
    compiled: Compiled, choices: Mapping[str, str], day: CustomersDay
) -> tuple[Placing, ...]:
    """Place what a day carries besides the driver; a trailer's nose weight on the tow ball.

    Parameters
    ----------
    compiled, choices
        A complete build.
    day : CustomersDay
        With its load; one of which only the mass is known goes onto the seats first, and the rest
        where the build's load goes.

    Returns
    -------
    tuple of Placing
        Masses [kg] with their places.
    """
    vehicle = compiled.offer.vehicle
    carried = carried_items(compiled, choices)
    nose = [item for item in carried if item.kind == "nose-weight" and day.trailer is not None]
    if day.load == "laden":
        aboard = [item for item in carried if item.kind != "nose-weight"]
        return tuple(_placed(vehicle, item) for item in (*aboard, *nose))
    load = placed_load(vehicle, carried, day.load_kg or 0.0)
    return (*load, *(_placed(vehicle, item) for item in nose))


def day_limits(
    compiled: Compiled, choices: Mapping[str, str], build: BuildInput, day: CustomersDay
) -> tuple[DayLimit, ...]:
    """Hold what a day puts on the vehicle and on each axle against the limits.

    Parameters
    ----------
    compiled, choices, build
        A complete build, with what was weighed.
    day : CustomersDay
        With its load and trailer.

    Returns
    -------
    tuple of DayLimit
        The whole vehicle, the front and the rear axle; each axle where it carries most, so that
        what lifts it stays away.
    """
    vehicle = compiled.offer.vehicle
    driver = stages_of(compiled, choices, build)[2]
    placings = day_placings(compiled, choices, day)
    whole = DayLimit(
        what=WHOLE,
        load_kg=round(driver.stands.mass_kg + sum(placed.mass_kg for placed in placings), 3),
        sigma_kg=round(driver.doubt.mass_kg, 3),
        limit_kg=vehicle.gross_mass_limit_kg,
        limit_words="its gross mass limit",
    )
    axles = (_axle(compiled, choices, driver, placings, axle) for axle in ("front", "rear"))
    return (whole, *axles)


def load_in_words(day: CustomersDay, placings: Sequence[Placing], whole: DayLimit) -> str:
    """Say what a day carries, where; empty where it carries nothing."""
    placed = placed_in_words(placings)
    if day.load != "laden":
        return placed
    return f"Fully laden the vehicle weighs {whole.load_kg:,.0f} kg. {placed}".strip()


def placed_in_words(placings: Sequence[Placing]) -> str:
    """Say where a day's load was placed; empty for none.

    Examples
    --------
    >>> placed_in_words([Placing("Bench", 75.0, 1.2), Placing("Load bed", 425.0, 2.6)])
    'The load is placed so: Bench 75 kg and Load bed 425 kg; each axle is checked with it.'
    """
    if not placings:
        return ""
    places: dict[str, float] = {}
    for placed in placings:
        places[placed.label] = places.get(placed.label, 0.0) + placed.mass_kg
    said = listed([f"{label} {mass_kg:,.0f} kg" for label, mass_kg in places.items()])
    return f"The load is placed so: {said}; each axle is checked with it."


def _axle(
    compiled: Compiled,
    choices: Mapping[str, str],
    driver: Stage,
    placings: Sequence[Placing],
    axle: AxleName,
) -> DayLimit:
    vehicle, is_front = compiled.offer.vehicle, axle == "front"
    maker_kg = vehicle.front_axle_limit_kg if is_front else vehicle.rear_axle_limit_kg
    limit = least_axle_limit(maker_kg, compiled.book.parts_of(choices))
    start_kg = driver.stands.front_kg if is_front else driver.stands.rear_kg
    behind = [placed.x_m / vehicle.wheelbase_m for placed in placings]
    shares = [1 - share for share in behind] if is_front else behind
    pressing = (
        placed.mass_kg * max(share, 0.0) for placed, share in zip(placings, shares, strict=True)
    )
    return DayLimit(
        what=f"{axle} axle",
        load_kg=round(start_kg + sum(pressing), 3),
        sigma_kg=round(driver.doubt.front_kg if is_front else driver.doubt.rear_kg, 3),
        limit_kg=limit.limit_kg,
        limit_words=PART_WORDS[limit.limited_by],
    )


def _placed(vehicle: Vehicle, item: PlacedItem) -> Placing:
    place = vehicle.places[item.place]
    return Placing(place.label, item.mass_kg, place.x_m)
