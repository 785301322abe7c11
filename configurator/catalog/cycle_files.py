"""The driving cycles that come with the tool."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from functools import cache
from importlib.resources import files

from configurator.catalog.models.catalog import DrivingCycle
from configurator.errors import CatalogError, Fault

FASTEST_KM_H = 250.0
_COMMENT = re.compile(r"# (label|source): (.+)")
_HEADER = "time_s,speed_km_h"


@cache
def bundled_cycles() -> tuple[DrivingCycle, ...]:
    """Read the bundled cycles, in the order of their ids.

    Returns
    -------
    tuple of DrivingCycle
        One for each file in the folder of cycles.

    Raises
    ------
    CatalogError
        If a file of the installation was damaged (C017).

    Examples
    --------
    >>> all(cycle.speed_km_h[0] == 0 for cycle in bundled_cycles())
    True
    """
    folder = files("configurator.catalog") / "cycles"
    found = sorted(item.name for item in folder.iterdir() if item.name.endswith(".csv"))
    return tuple(
        cycle_from_csv((folder / name).read_text(encoding="utf-8"), name) for name in found
    )


def cycle_from_csv(text: str, file: str) -> DrivingCycle:
    r"""Read one cycle: comment lines with label and source, a header, one sample a second.

    Parameters
    ----------
    text : str
        The file.
    file : str
        Its name; the stem is the id.

    Returns
    -------
    DrivingCycle
        Speeds [km/h].

    Raises
    ------
    CatalogError
        With every fault of the file (C017).

    Examples
    --------
    >>> cycle_from_csv("# label: Short\n# source: none\ntime_s,speed_km_h\n0,0\n1,5", "short.csv")
    DrivingCycle(id='short', label='Short', source='none', speed_km_h=(0.0, 5.0))
    """
    lines = text.split("\n")
    notes = {match[1]: match[2].strip() for line in lines if (match := _COMMENT.fullmatch(line))}
    rows = [(number, line) for number, line in enumerate(lines, 1) if line and line[0] != "#"]
    problems = [] if {"label", "source"} <= set(notes) else [(1, "label or source is missing")]
    if not rows or rows[0][1] != _HEADER:
        problems.append((1, f'the header "{_HEADER}" is missing'))
    speeds, wrong = _speeds(rows[1:])
    problems.extend(wrong)
    if problems:
        remedy = "Install the tool again, or restore this file."
        raise CatalogError(Fault("C017", f"{file}:{line}", what, remedy) for line, what in problems)
    return DrivingCycle(
        id=file.removesuffix(".csv"),
        label=notes["label"],
        source=notes["source"],
        speed_km_h=tuple(speeds),
    )


def _speeds(rows: Sequence[tuple[int, str]]) -> tuple[list[float], list[tuple[int, str]]]:
    speeds: list[float] = []
    problems = [] if len(rows) >= 2 else [(1, "a cycle has at least two samples")]
    for second, (line, row) in enumerate(rows):
        try:
            time_s, speed_km_h = (float(cell) for cell in row.split(","))
        except ValueError:
            problems.append((line, f'"{row[:40]}" is not a time and a speed'))
            continue
        if time_s != second or not math.isfinite(speed_km_h) or not 0 <= speed_km_h <= FASTEST_KM_H:
            problems.append((line, f'"{row[:40]}" is not second {second} with a possible speed'))
        speeds.append(speed_km_h)
    return speeds, problems
