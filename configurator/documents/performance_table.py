"""What the drive can do, as a table: pulling away, top speed, hills, fast roads."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby

from reportlab.platypus import Flowable

from configurator.build_spec.performance_doubt import ACCOUNT
from configurator.build_spec.performance_result import PerformanceLine
from configurator.documents.figures import number
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import cell, small
from configurator.documents.tables import headed_table

_COMPUTED = (
    "Computed for a sound drive, a charged and warm battery and dry, still air; nothing here was "
    "driven. Grip, brakes and the law set narrower limits on the road: drive within them."
)


def performance_blocks(lines: Sequence[PerformanceLine]) -> list[Flowable]:
    """Show each number with what limits it; nothing while choices are open."""
    return _blocks(lines) if lines else []


def performance_brief(lines: Sequence[PerformanceLine]) -> list[Flowable]:
    """Say the first number of each topic; nothing while choices are open.

    Powers are left out: they say how much is needed, which a customer cannot judge by.
    """
    firsts = [next(group) for _, group in groupby(lines, key=lambda line: line.topic)]
    told = [f"{_in_full(line)}: {figure(line)}" for line in firsts if line.unit != "kW"]
    return [cell(f"{'; '.join(told)}."), small(_COMPUTED)] if told else []


def _in_full(line: PerformanceLine) -> str:
    if line.label.startswith(line.topic):
        return line.label
    return f"{line.topic}, {line.label[:1].lower()}{line.label[1:]}"


def _blocks(lines: Sequence[PerformanceLine]) -> list[Flowable]:
    rows = [
        (topic if place == 0 else "", line.label, figure(line), remark(line))
        for topic, group in groupby(lines, key=lambda line: line.topic)
        for place, line in enumerate(group)
    ]
    head = ("", "", "Computed", "Limited by, and what to know")
    table = headed_table(head, rows, (0.17, 0.25, 0.13, 0.45), figures=(2,), strong=(0,))
    return [Noted(table, small(f"{_COMPUTED} {ACCOUNT}."))]


def figure(line: PerformanceLine) -> str:
    """Write the value with its unit, rounded to the side that still holds; a dash for none.

    Examples
    --------
    >>> figure(PerformanceLine(id="a", topic="Pulling away", label="0 to 50 km/h", value=4.02,
    ...     unit="s", decimals=1, rounding="up", how="", source=""))
    '4.1 s'
    >>> figure(PerformanceLine(id="a", topic="Top speed", label="Top", value=112.4, unit="km/h",
    ...     decimals=0, sigma=3.4, how="", source=""))
    '112 ± 7 km/h'
    """
    if line.value is None:
        return "—"
    step = 10.0**line.decimals
    near = round(line.value * step, 6)
    rounded = {"up": math.ceil(near), "down": math.floor(near), "nearest": near}[line.rounding]
    doubt = "" if line.spread is None else f" ± {number(line.spread, line.decimals)}"
    return f"{number(rounded / step, line.decimals)}{doubt} {line.unit}"


def remark(line: PerformanceLine) -> str:
    """Say what limits a number, and what to know about it."""
    limit = f"{line.limited_by[:1].upper()}{line.limited_by[1:]}." if line.limited_by else ""
    return f"{limit} {line.note}".strip()
