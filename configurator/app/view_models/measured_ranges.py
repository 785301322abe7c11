"""What measurements change in the ranges, in words and bars."""

from __future__ import annotations

import math
from dataclasses import dataclass

from configurator.app.view_models.words import count, from_to
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import RangeLine
from configurator.build_spec.sums import DRIVER_KG
from configurator.catalog.models.measurements import Measurements
from configurator.workflow.measured_ranges import MassFrom, RangeMoved, RangesMoved, UsualMass

DRIVEN = "Like what was driven"
NOT_DRIVEN = "Unlike what was driven: the trips say less of it"
NAMED = 4
"""Open choices that are named; the others are counted."""

NO_RANGES = "No range can be computed for what is chosen; the talk says why."
NO_MEASUREMENTS = "Enter runs or trips, and what they change in each range stands here."
COMES_FROM: dict[MassFrom, str] = {
    "weighed-finished": "the finished vehicle’s axles as weighed",
    "computed": "the computed kerb mass of what is chosen",
    "weighed-donor": "the donor’s axles as weighed",
    "catalog-donor": "the donor’s axle loads from the catalog",
}


@dataclass(frozen=True)
class Bar:
    """A band from the left edge of what is drawn, in per cent of its width."""

    left: float
    width: float
    middle: float


@dataclass(frozen=True)
class Told:
    """A range in words, with its bar."""

    band: str
    about: str
    bar: Bar


@dataclass(frozen=True)
class MovedRow:
    """A driving case before and after."""

    label: str
    about: str
    before: Told
    after: Told
    verdict: str


@dataclass(frozen=True)
class MovedAnswer:
    """The rows, or a sentence in their place."""

    instead: str
    rows: tuple[MovedRow, ...]


def moved_answer(moved: RangesMoved, measured: Measurements) -> MovedAnswer:
    """Say what measurements change in each range, driven ones first, or why it waits."""
    if moved.open_groups:
        return MovedAnswer(_waiting(moved.open_groups, measured), ())
    if not moved.lines:
        return MovedAnswer(NO_RANGES, ())
    if measured == Measurements():
        return MovedAnswer(NO_MEASUREMENTS, ())
    most_km = max(max(line.before.high_km, line.after.high_km) for line in moved.lines)
    lines = sorted(moved.lines, key=lambda line: not line.was_driven)
    rows = (_row(line, most_km, has_trips=bool(measured.trips)) for line in lines)
    return MovedAnswer("", tuple(rows))


def mass_told(usual: UsualMass) -> str:
    """Say what the vehicle likely weighs, as a help and never in place of weighing it.

    Examples
    --------
    >>> mass_told(UsualMass(1275.0, "weighed-donor"))
    'Write what was weighed. For comparison, the donor’s axles as weighed, with a driver of 75 kg: 1,275 kg.'
    """  # noqa: E501  one line of output
    return (
        f"Write what was weighed. For comparison, {COMES_FROM[usual.comes_from]}, with a driver of "
        f"{DRIVER_KG:g} kg: {usual.mass_kg:,.0f} kg."
    )


def _waiting(open_groups: tuple[str, ...], measured: Measurements) -> str:
    more = [f"{len(open_groups) - NAMED} more"] if len(open_groups) > NAMED else []
    names = listed([*open_groups[:NAMED], *more])
    still = f"{count(len(open_groups), 'choice is', 'choices are')} still open: {names}."
    why = (
        "Before and after can be compared once everything is chosen: what was driven holds for "
        "one vehicle alone, and what is open changes its mass, drag and battery."
    )
    was_donor = measured.coast_down is not None and measured.coast_down.vehicle_was == "donor"
    donor = " The donor’s coast-down counts as soon as it is kept." if was_donor else ""
    return f"{still} {why}{donor}"


def _row(line: RangeMoved, most_km: float, *, has_trips: bool) -> MovedRow:
    about = (DRIVEN if line.was_driven else NOT_DRIVEN) if has_trips else ""
    before, after = _told(line.before, most_km), _told(line.after, most_km)
    return MovedRow(line.before.label, about, before, after, _verdict(line.before, line.after))


def _told(line: RangeLine, most_km: float) -> Told:
    middle = line.mid_km or math.sqrt(line.low_km * line.high_km)
    consumed = line.consumption_wh_per_km
    per_km = "" if consumed is None else f" · {consumed:,.0f} Wh/km"
    bar = Bar(
        100 * line.low_km / most_km,
        100 * (line.high_km - line.low_km) / most_km,
        100 * middle / most_km,
    )
    band = from_to(line.low_km, line.high_km, "km")
    return Told(band, f"middle {middle:,.0f} km{per_km}", bar)


def _verdict(before: RangeLine, after: RangeLine) -> str:
    """Compare the middles, and the widths of the bands as shares of them."""
    middles = [line.mid_km or math.sqrt(line.low_km * line.high_km) for line in (before, after)]
    further = round(100 * (middles[1] / middles[0] - 1))
    widths = [math.log(line.high_km / line.low_km) for line in (before, after)]
    wider = round(100 * (widths[1] / widths[0] - 1)) if widths[0] > 0 else 0
    moved = _by(further, "further", "less far") if further else "as far as before"
    return f"{moved}; {_by(wider, 'wider', 'narrower')}" if wider else f"{moved}; as wide"


def _by(percent: int, more: str, less: str) -> str:
    return f"{abs(percent)} % {more if percent > 0 else less}"
