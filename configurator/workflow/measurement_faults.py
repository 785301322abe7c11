"""Read what was measured on the road as a form sends it: every entry that cannot be, with why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from pydantic import ValidationError

from configurator.build_spec.days import day_in_words
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.measurements import Measurements
from configurator.catalog.plausible import PLAUSIBLE
from configurator.errors import ChoiceError, Fault, MeasurementError
from configurator.physics.coast_down import CoastDownFit
from configurator.workflow.entry_faults import Entry, entry_faults, figure

MEASURED = "Write what was measured."
ENTRIES: dict[str, Entry] = {
    name: replace(entry, if_empty=MEASURED)
    for name, entry in {
        "measured_on": Entry("Day of the coast-down"),
        "vehicle_was": Entry("What was driven"),
        "mass_kg": figure("Mass with everybody in it", "kg"),
        "temperature_c": figure("Air in the test", "°C"),
        "altitude_m": figure("Above the sea", "m"),
        "runs": Entry("Runs"),
        "time_s": figure("Times of a run", "s"),
        "speed_km_h": figure("Speeds of a run", "km/h"),
        "note": Entry("Note"),
        "driven_on": Entry("Day of a trip"),
        "case": Entry("Driving case of a trip"),
        "km": figure("Distance of a trip", "km"),
        "energy_kwh": figure("Energy of a trip", "kWh"),
        "trips": Entry("Trips"),
    }.items()
}
"""What people see each entry called, and how they type it."""

NUMBERED = {"trips": "trip", "runs": "run"}
"""List of a form → what one of it is called."""

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
    Distance of a trip, trip 1: “0” is too little. Write more than 1 km. [P017]
    """
    try:
        return Measurements.model_validate(dict(written))
    except ValidationError as error:
        faults = entry_faults(error, "P017", ENTRIES, "Measurements", numbered=NUMBERED)
        raise ChoiceError(faults) from error


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
