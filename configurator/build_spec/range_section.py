"""The range of each driving case as a band, with a new and an aged battery."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.band_causes import band_causes
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.facts import Extent
from configurator.build_spec.measured_words import measured_words
from configurator.build_spec.range_facts import trip_of
from configurator.build_spec.spec import RangeLine
from configurator.build_spec.stated_input import BandCause
from configurator.catalog.models.build import Donor
from configurator.catalog.models.catalog import DrivingCycle
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.workshop import Age, DrivingCase
from configurator.physics.range_band import RangeBand, range_bands
from configurator.physics.road_vehicle import RoadVehicle, Trip

Extents = Mapping[tuple[FactName, str | None], Extent]

STORED_DECIMALS = 3


def range_lines(
    compiled: Compiled, choices: Mapping[str, str], extents: Extents, donor: Donor
) -> tuple[RangeLine, ...]:
    """Tell the range of each driving case as a band.

    The range with an aged battery, and what widens the band, belong to complete builds.
    """
    catalog = compiled.catalog
    cycles = {cycle.id: cycle for cycle in catalog.cycles}
    complete = len(choices) == len(compiled.offer.groups)
    measured = measured_words(compiled.offer.vehicle)
    lines = []
    for case in catalog.driving_cases:
        if ("range_low_km", case.id) not in extents:
            continue
        aged = aged_band(compiled, case, choices) if complete else None
        lines.append(
            RangeLine(
                case_id=case.id,
                label=case.label,
                conditions="; ".join(
                    filter(None, [_conditions(case, cycles, catalog.workshop.aged), measured])
                ),
                temperature_c=case.temperature_c,
                low_km=_stored(extents["range_low_km", case.id].low),
                high_km=_stored(extents["range_high_km", case.id].high),
                mid_km=_settled(extents.get(("range_mid_km", case.id))),
                consumption_wh_per_km=_settled(extents.get(("consumption_wh_per_km", case.id))),
                aged_low_km=None if aged is None else _stored(aged.low_km),
                aged_high_km=None if aged is None else _stored(aged.high_km),
                widened_by=causes_of(compiled, case, choices, donor) if complete else (),
            )
        )
    return tuple(lines)


def aged_band(
    compiled: Compiled, case: DrivingCase, choices: Mapping[str, str]
) -> RangeBand | None:
    """Compute the range of a complete build in a driving case, with its battery grown old."""
    driven = _driven(compiled, case.model_copy(update={"battery": "aged"}), choices)
    return None if driven is None else range_bands([driven[0]], driven[1])[0]


def causes_of(
    compiled: Compiled, case: DrivingCase, choices: Mapping[str, str], donor: Donor
) -> tuple[BandCause, ...]:
    """Name what widens the range of a complete build in a driving case."""
    driven = _driven(compiled, case, choices)
    if driven is None:
        return ()
    return band_causes(compiled.book.parts_of(choices), compiled.offer.vehicle, donor, *driven)


def _driven(
    compiled: Compiled, case: DrivingCase, choices: Mapping[str, str]
) -> tuple[RoadVehicle, Trip] | None:
    fact = compiled.book.drive_fact("range_mid_km", case.id)
    if fact is None:
        return None
    vehicle = road_vehicle(compiled.book.around, case, compiled.book.state(fact, choices))
    cycles = {cycle.id: cycle for cycle in compiled.catalog.cycles}
    return None if vehicle is None else (vehicle, trip_of(case, cycles))


def age_in_words(age: Age) -> str:
    """Say an age as people read it.

    Examples
    --------
    >>> age_in_words(Age(years=8, km=120_000))
    '8 years and 120,000 km'
    """
    return f"{age.years} years and {age.km:,} km"


def _settled(extent: Extent | None) -> float | None:
    return None if extent is None else _stored(extent.low)


def _stored(value: float) -> float:
    return round(value, STORED_DECIMALS)


def _conditions(case: DrivingCase, cycles: Mapping[str, DrivingCycle], age: Age) -> str:
    speed = (
        f"steady {case.steady_km_h:g} km/h" if case.steady_km_h else cycles[case.cycle or ""].label
    )
    load = "driver only" if case.load == "driver" else "fully laden"
    battery = "new battery" if case.battery == "new" else f"battery after {age_in_words(age)}"
    cells = "" if case.pack_c is None else f" at {_degrees(case.pack_c)}"
    return f"{speed}, {_degrees(case.temperature_c)}, {load}, {battery}{cells}"


def _degrees(celsius: float) -> str:
    return f"{celsius:g} °C".replace("-", "\N{MINUS SIGN}")
