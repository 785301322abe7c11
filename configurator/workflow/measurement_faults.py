"""Read what was measured on the road as a form sends it: every entry that cannot be, with why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from configurator.build_spec.days import day_in_words
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.measurements import Measurements
from configurator.catalog.plausible import PLAUSIBLE
from configurator.errors import ChoiceError, Fault, MeasurementError
from configurator.physics.coast_down import CoastDownFit

ENTRY_LABELS: dict[str, str] = {
    "measured_on": "Day of the coast-down",
    "vehicle_was": "What was driven",
    "mass_kg": "Mass with everybody in it",
    "temperature_c": "Air in the test",
    "altitude_m": "Above the sea",
    "runs": "Runs",
    "time_s": "Times of a run",
    "speed_km_h": "Speeds of a run",
    "note": "Note",
    "driven_on": "Day of a trip",
    "case": "Driving case of a trip",
    "km": "Distance of a trip",
    "energy_kwh": "Energy of a trip",
    "trips": "Trips",
}
"""Entry → what people see it called."""

LEAST_KWH_PER_KM, MOST_KWH_PER_KM = 0.03, 3.0
"""What road vehicles of up to 3.5 t take; wide, from memory."""


def read_measurements(written: Mapping[str, object]) -> Measurements:
    """Read measurements as a form sends them.

    Parameters
    ----------
    written : mapping
        Entries of `Measurements`.

    Raises
    ------
    ChoiceError
        With a fault of code P017 for every entry that cannot be.

    Examples
    --------
    >>> read_measurements({}).trips
    ()
    >>> try:
    ...     read_measurements({"trips": [{"driven_on": "2026-05-04", "case": "lane", "km": 0,
    ...                                   "energy_kwh": 4}]})
    ... except ChoiceError as error:
    ...     print(error.faults[0])
    Distance of a trip, trip 1: "0" cannot be: input should be greater than 1. Correct it. [P017]
    """
    try:
        return Measurements.model_validate(dict(written))
    except ValidationError as error:
        raise ChoiceError([_fault(details) for details in error.errors()]) from error


def check_trips(measured: Measurements, known_cases: Sequence[str], today: date) -> None:
    """Refuse trips of unknown driving cases, days to come, and energies that no vehicle takes.

    Raises
    ------
    ChoiceError
        With a fault of code P017 for each.
    """
    faults = [*_in_trips(measured, list(known_cases)), *_to_come(measured, today)]
    if faults:
        raise ChoiceError(faults)


def check_fit(fit: CoastDownFit) -> None:
    """Refuse a fit that no road vehicle has.

    Raises
    ------
    MeasurementError
        With a fault of code P017 for each value that cannot be.
    """
    values = {
        "drag_area_m2": ("drag area", fit.drag_area_m2),
        "rolling_resistance": ("rolling resistance", fit.rolling_resistance),
    }
    faults = [
        Fault(
            "P017",
            "Coast-down",
            f"the runs give a {label} of {value:.3g}; {PLAUSIBLE[name].in_words}",
            "Check units, mass and the slope of the road, and run as often one way as the other.",
        )
        for name, (label, value) in values.items()
        if not PLAUSIBLE[name].least <= value <= PLAUSIBLE[name].greatest
    ]
    if faults:
        raise MeasurementError(faults)


def _in_trips(measured: Measurements, known: list[str]) -> Iterator[Fault]:
    for number, trip in enumerate(measured.trips, 1):
        where = f"trip {number}"
        if trip.case not in known:
            what = f'the catalog has no driving case "{trip.case[:60]}"'
            yield Fault("P017", where, what, did_you_mean(trip.case, known))
        per_km = trip.energy_kwh / trip.km
        if not LEAST_KWH_PER_KM <= per_km <= MOST_KWH_PER_KM:
            what = (
                f"{trip.energy_kwh:g} kWh over {trip.km:g} km are {per_km:.3g} kWh for each "
                f"kilometre; road vehicles take {LEAST_KWH_PER_KM:g} to {MOST_KWH_PER_KM:g}"
            )
            yield Fault("P017", where, what, "Check distance and energy.")


def _to_come(measured: Measurements, today: date) -> Iterator[Fault]:
    days = [(f"trip {n}", trip.driven_on) for n, trip in enumerate(measured.trips, 1)]
    if measured.coast_down is not None:
        days.append(("Coast-down", measured.coast_down.measured_on))
    for where, day in days:
        if day > today:
            what = f"its day, {day_in_words(day)}, is still to come"
            yield Fault("P017", where, what, "Write the day on which it was measured.")


def _fault(details: ErrorDetails) -> Fault:
    place = details["loc"]
    names = [str(part) for part in place if isinstance(part, str) and part in ENTRY_LABELS]
    where = ENTRY_LABELS[names[-1]] if names else "Measurements"
    if len(place) > 1 and place[0] == "trips" and isinstance(place[1], int):
        where = f"{where}, trip {place[1] + 1}"
    if len(place) > 2 and place[1] == "runs" and isinstance(place[2], int):
        where = f"{where}, run {place[2] + 1}"
    if details["input"] is None:
        return Fault("P017", where, "nothing stands there", "Write what was measured.")
    reason = str(details.get("ctx", {}).get("error", details["msg"]))
    if isinstance(details["input"], str | int | float):
        reason = f'"{str(details["input"])[:40]}" cannot be: {reason[:1].lower()}{reason[1:]}'
    return Fault("P017", where, reason, "Correct it.")
