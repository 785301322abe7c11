"""A customer's own day with a build: what it takes, what is left, whether it fits, what helps."""

from __future__ import annotations

import math
from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.day_charging import source_of
from configurator.build_spec.day_driven import DayAsked, ask_day, outcome, stored
from configurator.build_spec.day_helps import helps_for
from configurator.build_spec.day_loading import day_limits, day_placings, load_in_words
from configurator.build_spec.day_result import DayLeg, DayResult, Road
from configurator.build_spec.day_words import ROAD_LABELS, assumptions_of, conditions_of
from configurator.build_spec.settle import settle
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.day import CustomersDay
from configurator.errors import ChoiceError, Fault
from configurator.physics.road_load import share_not_followed
from configurator.units import JOULES_PER_KWH


def customers_day(compiled: Compiled, build: BuildInput) -> DayResult | None:
    """Compute the customer's day with a build, or with what the workshop would choose for the rest.

    Parameters
    ----------
    compiled : Compiled
        The build's facts.
    build : BuildInput
        With its day and its choices, complete or not.

    Returns
    -------
    DayResult or None
        None where no day is stated, the choices contradict each other, a part is missing to drive,
        or the day gives back as much energy as it takes.

    Source
    ------
    The range on the day's own mix of roads is a band as every range is (`physics.range_band`); the
    share of it that the day drives is what the battery gives.
    """
    if build.day is None:
        return None
    filled = settle(compiled, build.model_copy(update={"house_choices_for_the_rest": True}))
    choices = filled.choices
    if len(choices) < len(compiled.offer.groups):
        return None
    is_default = not build.house_choices_for_the_rest and bool(filled.house)
    # What was weighed holds for the choices made alone.
    weighed = build.model_copy(update={"as_built": None}) if is_default else build
    asked = ask_day(compiled, choices, build.day)
    return day_of_choices(asked, weighed, of_default_completion=is_default)


def day_of_choices(
    asked: DayAsked, build: BuildInput, *, of_default_completion: bool = False
) -> DayResult | None:
    """Compute a day with complete choices; None as `customers_day`."""
    new, aged = asked.driven("new"), asked.driven("aged")
    if new is None or aged is None:
        return None
    joules = new.joules_by_road()
    if math.fsum(joules.values()) <= 0 or math.fsum(aged.joules_by_road().values()) <= 0:
        return None
    compiled, day = asked.compiled, asked.day
    placings = day_placings(compiled, asked.choices, day)
    limits = day_limits(compiled, asked.choices, build, day)
    return DayResult(
        of_default_completion=of_default_completion,
        distance_km=stored(day.distance_km),
        reserve_percent=day.reserve_percent,
        conditions=conditions_of(day, asked.supply.source),
        charged_halfway_kwh=stored(min(asked.supply.power_kw * day.hours_charging, new.usable_kwh)),
        new=outcome("new", new, asked.halfway(new.usable_kwh)),
        aged=outcome("aged", aged, asked.halfway(aged.usable_kwh)),
        legs=_legs(joules, day),
        helps=helps_for(asked),
        not_followed_percent=stored(100 * share_not_followed([new.vehicle], new.trip)[0]),
        trailer_allowed_kg=_trailer_allowed_kg(compiled, asked.choices),
        payload_spare_kg=stored(min(-limit.over_kg for limit in limits)),
        assumptions=(
            *assumptions_of(day, compiled.catalog, can_charge=asked.supply.power_kw > 0),
            *filter(None, [load_in_words(day, placings, limits[0])]),
        ),
        limits=limits,
    )


def _legs(joules: Mapping[Road, float], day: CustomersDay) -> tuple[DayLeg, ...]:
    total = math.fsum(joules.values())
    km: dict[Road, float] = {
        "town": day.town_km,
        "country": day.country_km,
        "motorway": day.motorway_km,
    }
    return tuple(
        DayLeg(
            road=road,
            label=ROAD_LABELS[road],
            distance_km=stored(km[road]),
            energy_kwh=stored(energy / JOULES_PER_KWH),
            share_percent=stored(100 * energy / total),
        )
        for road, energy in joules.items()
    )


def _trailer_allowed_kg(compiled: Compiled, choices: Mapping[str, str]) -> float:
    return math.fsum(option.effects.trailer_kg for option in compiled.offer.options_of(choices))


def check_day(compiled: Compiled, build: BuildInput) -> None:
    """Refuse a day that gives back as much energy as it takes, or charges at a lost place.

    Raises
    ------
    ChoiceError
        With what to do.
    """
    day = build.day
    if day is None:
        return
    faults = []
    if day.charging_source is not None and source_of(compiled.catalog, day) is None:
        what = f'it charges at "{day.charging_source}", which the catalog does not have'
        faults.append(Fault("S012", "Your day", what, "Choose one of the places shown."))
    filled = settle(compiled, build.model_copy(update={"house_choices_for_the_rest": True}))
    if len(filled.choices) == len(compiled.offer.groups):
        driven = ask_day(compiled, filled.choices, day).driven("new")
        if driven is not None and math.fsum(driven.joules_by_road().values()) <= 0:
            what = f"{day.descended_m:g} m of descent give back as much energy as the day takes"
            faults.append(Fault("S013", "Your day", what, "Count the way back up as well."))
    if faults:
        raise ChoiceError(faults)
