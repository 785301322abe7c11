"""Pasted lines of coast-down runs and of trips: read, or told line by line what cannot be read."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from datetime import date

from configurator.errors import Fault

FEWEST_LINES = 4
MOST_SECONDS, MOST_KM_H = 600.0, 200.0
RUNS_EXAMPLE = (
    "0 82.1\n10 70.6\n20 61.0\n30 52.7\n40 45.4\n50 38.9\n60 33.1\n"
    "\n0 81.6\n10 70.2\n20 60.6\n30 52.4\n40 45.2\n50 38.7\n60 32.8"
)
"""Two runs of 1,200 kg with 0.9 m² of drag and 0.0125 of rolling resistance, computed."""

RUN_LINE = 'Write a line such as "10 70.6": seconds, then km/h.'
SOME_DAY = date(2026, 5, 4)
TOLD = 12
"""Faults told of one text area; a wrong file pasted has thousands."""

Run = dict[str, list[float]]


def read_runs(pasted: str) -> tuple[list[Run], list[Fault]]:
    r"""Read runs, a blank line between them.

    Parameters
    ----------
    pasted : str
        Lines of time [s] and speed [km/h]; spaces, tabs or semicolons between, point or comma.

    Returns
    -------
    list of dict, list of Fault
        The runs as far as they can be read, and what cannot.

    Examples
    --------
    >>> runs, faults = read_runs("0 80\n2 74\n4 69\n6 64\n\n0 80\n2 7x\n")
    >>> runs[0]["speed_km_h"]
    [80.0, 74.0, 69.0, 64.0]
    >>> [fault.where for fault in faults]
    ['Runs, line 7']
    """
    runs: list[Run] = []
    faults: list[Fault] = []
    starts: list[int] = []
    begins = True
    for number, line in enumerate(pasted.splitlines(), 1):
        if not line.strip():
            begins = True
            continue
        if begins:
            runs.append({"time_s": [], "speed_km_h": []})
            starts.append(number)
            begins = False
        fault = _add_sample(runs[-1], line, f"Runs, line {number}")
        faults += [fault] if fault else []
    # A run with unread lines is short only because of them.
    if not faults:
        faults = _too_few(runs, starts)
    return runs, _shortened(faults, "Runs")


def trip_example(case: str, day: date) -> str:
    """Write a trip as a line may be written.

    Examples
    --------
    >>> trip_example("lane", date(2026, 5, 4))
    'lane; 42; 6.5; 2026-05-04'
    """
    return f"{case}; 42; 6.5; {day.isoformat()}"


def read_trips(
    pasted: str, case_labels: Mapping[str, str]
) -> tuple[list[dict[str, object]], list[Fault]]:
    """Read trips, one a line: driving case; km; kWh; date.

    Examples
    --------
    >>> read_trips("Along the lane; 42; 9,8; 2026-05-04", {"lane": "Along the lane"})[0][0]["case"]
    'lane'
    >>> print(read_trips("lane; 42; 2026-05-04", {"lane": "Along the lane"})[1][0].what)
    it has 3 parts; four are needed: driving case; km; kWh; date
    """
    trips: list[dict[str, object]] = []
    faults: list[Fault] = []
    for number, line in enumerate(pasted.splitlines(), 1):
        if not line.strip():
            continue
        trip, found = _trip(line, case_labels, f"Trips, line {number}")
        trips.append(trip)
        faults += found
    return trips, _shortened(faults, "Trips")


def _add_sample(run: Run, line: str, where: str) -> Fault | None:
    # Never more than three parts are looked at: a file pasted in one line may hold a million.
    parts = [part for part in re.split(r"[\s;]+", line.strip(), maxsplit=2) if part]
    values = [_number(part) for part in parts]
    if len(values) != 2 or values[0] is None or values[1] is None:
        return Fault("P017", where, f'"{line.strip()[:40]}" is not two numbers', RUN_LINE)
    time, speed = values[0], values[1]
    if not (0 <= time <= MOST_SECONDS and 0 <= speed <= MOST_KM_H):
        what = f"{time:g} s and {speed:g} km/h; 0 to 600 s and 0 to 200 km/h can be"
        return Fault("P017", where, what, RUN_LINE)
    if run["time_s"] and time <= run["time_s"][-1]:
        what = f"its time, {time:g} s, does not come after {run['time_s'][-1]:g} s"
        return Fault("P017", where, what, "Put a blank line where a run ends, or mend the time.")
    run["time_s"].append(time)
    run["speed_km_h"].append(speed)
    return None


def _too_few(runs: list[Run], starts: list[int]) -> list[Fault]:
    faults = [
        Fault(
            "P017",
            f"Runs, line {start}",
            f"the run that begins here has {len(run['time_s'])} lines; it needs four or more",
            "Note the speed more often, or take a blank line out.",
        )
        for run, start in zip(runs, starts, strict=True)
        if len(run["time_s"]) < FEWEST_LINES
    ]
    if len(runs) == 1:
        what = "there is one run; two or more are needed, as many one way as the other"
        remedy = "Paste the run back too, a blank line before it."
        faults.append(Fault("P017", f"Runs, line {starts[0]}", what, remedy))
    return faults


def _trip(
    line: str, case_labels: Mapping[str, str], where: str
) -> tuple[dict[str, object], list[Fault]]:
    parts = [part.strip() for part in line.rsplit(";", 3)]
    remedy = _trip_line(case_labels)
    if len(parts) != 4:
        what = f"it has {len(parts)} parts; four are needed: driving case; km; kWh; date"
        return {}, [Fault("P017", where, what, remedy)]
    case, km, energy, day = _case(parts[0], case_labels), _number(parts[1]), _number(parts[2]), None
    faults = []
    if case is None:
        known = ", ".join(case_labels)
        what = f'there is no driving case "{parts[0][:60]}"'
        faults.append(Fault("P017", where, what, f"Write one of: {known}."))
    for value, part, name, least, most in (
        (km, parts[1], "km", 1, 2000),
        (energy, parts[2], "kWh", 0.1, 500),
    ):
        if value is None or not least < value <= most:
            what = f'"{part[:40]}" cannot be the {name}; more than {least:g}, up to {most:g} can'
            faults.append(Fault("P017", where, what, remedy))
    try:
        day = date.fromisoformat(parts[3])
    except ValueError:
        what = f'"{parts[3][:40]}" is no date'
        faults.append(Fault("P017", where, what, "Write year-month-day, such as 2026-05-04."))
    return {"case": case, "km": km, "energy_kwh": energy, "driven_on": day}, faults


def _trip_line(case_labels: Mapping[str, str]) -> str:
    case = next(iter(case_labels), "driving case")
    return f'Write a line such as "{trip_example(case, SOME_DAY)}".'


def _case(written: str, case_labels: Mapping[str, str]) -> str | None:
    if written in case_labels:
        return written
    wanted = written.casefold()
    return next((id_ for id_, label in case_labels.items() if label.casefold() == wanted), None)


def _number(written: str) -> float | None:
    try:
        value = float(written.replace(",", "."))
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _shortened(faults: list[Fault], where: str) -> list[Fault]:
    if len(faults) <= TOLD:
        return faults
    what = f"{len(faults) - TOLD} more lines cannot be read"
    return [*faults[:TOLD], Fault("P017", where, what, "Mend those above first.")]
