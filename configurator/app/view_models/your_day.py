"""A customer's day for the screen: what was entered, and the answer in plain words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.app.view_models.words import MINUS
from configurator.build_spec.day_findings import OVERLOADS, TOO_HEAVY_A_TRAILER, day_findings
from configurator.build_spec.day_result import DayOutcome, DayResult
from configurator.build_spec.range_section import age_in_words
from configurator.catalog.models.day import CustomersDay, Trailer
from configurator.catalog.models.workshop import Age
from configurator.drawings.battery_left import BatteryBar, whole_percent_left

USUAL_DAY = CustomersDay(town_km=10, country_km=40)
"""What the page opens with where no day is kept."""

LOADS = {"driver": "The driver alone", "laden": "Fully laden", "kg": "So many kilograms"}
SHORT_CODE = "F023"
MAY_OVERLOAD = "F027"
FORBIDDING = OVERLOADS | {TOO_HEAVY_A_TRAILER}
NOTHING_HELPS = (
    "Neither driving slower, nor a cabin warmed from the cable, nor some hours of charging halfway "
    "is enough. Plan a shorter day, or choose a larger battery."
)
DEFAULTS_NOTE = "Choices still open are taken as the workshop would make them."


@dataclass(frozen=True)
class LegRow:
    """A line of the table by road."""

    label: str
    distance: str
    energy: str
    share: str


@dataclass(frozen=True)
class DayAnswer:
    """What the screen says of a day."""

    fits: bool
    """The battery lasts, and the vehicle may carry and tow what the day asks."""
    headline: str
    about: tuple[str, ...]
    bars: tuple[BatteryBar, ...]
    legs: tuple[LegRow, ...]
    helps: tuple[str, ...]
    warnings: tuple[tuple[str, ...], ...]
    """What forbids the day; it is said before anything else is."""
    remarks: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]


def entries_of(day: CustomersDay) -> dict[str, object]:
    """Spread a day over the entries of the page."""
    entries = day.model_dump(exclude={"trailer"})
    trailer = day.trailer or Trailer(mass_kg=500)
    return {
        **entries,
        "load": "kg" if day.load_kg is not None else day.load,
        "load_kg": day.load_kg or 0.0,
        "has_trailer": day.trailer is not None,
        **{f"trailer_{name}": value for name, value in trailer.model_dump().items()},
        "battery_is_warm": day.battery_c is not None,
        "battery_c": day.temperature_c if day.battery_c is None else day.battery_c,
    }


def day_written(entries: Mapping[str, object]) -> dict[str, object]:
    """Gather the entries of the page as a day is written.

    Examples
    --------
    >>> written = day_written(entries_of(CustomersDay(town_km=12)))
    >>> CustomersDay.model_validate(written) == CustomersDay(town_km=12)
    True
    """
    written = {name: value for name, value in entries.items() if name in CustomersDay.model_fields}
    if not entries["battery_is_warm"]:
        written["battery_c"] = None
    load = entries["load"]
    written |= {
        "load": "driver" if load == "kg" else load,
        "load_kg": entries["load_kg"] if load == "kg" else None,
    }
    if entries["has_trailer"]:
        names = Trailer.model_fields
        written["trailer"] = {name: entries[f"trailer_{name}"] for name in names}
    return written


def answer(day: CustomersDay, result: DayResult, age: Age) -> DayAnswer:
    """Say in plain words what becomes of a day."""
    new, aged = result.new, result.aged
    older = f"After {age_in_words(age)}"
    found = [finding for finding in day_findings(day, result) if finding.code != SHORT_CODE]
    forbid = frozenset(finding.code for finding in found) & FORBIDDING
    return DayAnswer(
        fits=new.fits and not forbid,
        headline=_headline(new, forbid),
        about=(
            _left(result),
            *_emptiest(result),
            _further(new, result.reserve_percent),
            f"{older}: {_aged(aged)}",
        ),
        bars=(_bar("Battery when new", new), _bar(older, aged)),
        legs=tuple(
            LegRow(
                leg.label,
                f"{leg.distance_km:,.0f} km",
                f"{leg.energy_kwh:.1f} kWh".replace("-", MINUS),
                f"{leg.share_percent:.0f} %".replace("-", MINUS),
            )
            for leg in result.legs
        ),
        # What helps the battery would read as if the rest were in order.
        helps=() if forbid else _helps(result),
        warnings=tuple((f.sentence, f.remedy) for f in found if f.code in FORBIDDING),
        remarks=tuple((f.sentence, f.remedy) for f in found if f.code not in FORBIDDING),
        notes=_notes(result),
    )


def used_in_words(outcome: DayOutcome) -> str:
    """Say what a day takes, P10 to P90.

    It is written to the tenth of a kilowatt-hour.
    """
    return f"{outcome.used_low_kwh:.1f} to {outcome.used_high_kwh:.1f} kWh"


def in_ten(likelihood_percent: float) -> str:
    """Say a likelihood as so many times in ten, never as certain.

    Examples
    --------
    >>> in_ten(99.9), in_ten(62.0), in_ten(2.0)
    ('more than nine times in ten', 'about 6 times in ten', 'hardly ever')
    """
    if likelihood_percent >= 90:
        return "more than nine times in ten"
    if likelihood_percent < 5:
        return "hardly ever"
    return f"about {max(round(likelihood_percent / 10), 1)} times in ten"


def _headline(new: DayOutcome, forbid: frozenset[str]) -> str:
    if forbid:
        battery = "The battery would do" if new.fits else "The battery may not do"
        return f"{battery}{', but' if new.fits else ', and'} {_forbidden(forbid)}."
    if new.fits:
        return "Yes, this day fits."
    if new.likelihood_percent >= 5:
        return f"Not safely: it works out {in_ten(new.likelihood_percent)}."
    return "No, this day is too long for the battery."


def _forbidden(forbid: frozenset[str]) -> str:
    acts = [
        words
        for words, codes in (("carry", OVERLOADS), ("tow", frozenset({TOO_HEAVY_A_TRAILER})))
        if codes & forbid
    ]
    if forbid == {MAY_OVERLOAD}:
        return "only a weighbridge can say whether the vehicle may carry this"
    return f"the vehicle may not {' and '.join(acts)} this"


def _left(result: DayResult) -> str:
    new = result.new
    charged = (
        f" and of up to {result.charged_halfway_kwh:.1f} kWh charged halfway"
        if result.charged_halfway_kwh
        else ""
    )
    takes = f"It takes {used_in_words(new)} of the battery's {new.usable_kwh:.1f} kWh{charged}."
    if new.left_low_percent < 0:
        return takes
    low, high = (
        whole_percent_left(percent) for percent in (new.left_low_percent, new.left_high_percent)
    )
    return (
        f"{takes} Nine times in ten {low} % or more is left on return, one time in ten {high} % or "
        "more."
    )


def _emptiest(result: DayResult) -> tuple[str, ...]:
    """Say when the battery is emptier on the way than on return: before it is charged."""
    least = result.new.least_low_percent
    if not 0 <= least < result.new.left_low_percent:
        return ()
    return (f"Before charging halfway {whole_percent_left(least)} % or more is left.",)


def _further(new: DayOutcome, reserve_percent: float) -> str:
    if new.spare_low_km >= 0:
        return (
            f"Nine times in ten it could be {math.floor(new.spare_low_km):,} km longer with the "
            f"reserve of {reserve_percent:g} % kept."
        )
    return (
        f"{math.ceil(-new.spare_low_km):,} km are missing if nine in ten are to come back with "
        f"{reserve_percent:g} % left."
    )


def _aged(aged: DayOutcome) -> str:
    if aged.fits:
        return f"it still fits, with {math.floor(aged.spare_low_km):,} km to spare."
    often = in_ten(aged.likelihood_percent)
    return f"{math.ceil(-aged.spare_low_km):,} km are missing; {often} it works out."


def _bar(label: str, outcome: DayOutcome) -> BatteryBar:
    spare = outcome.spare_low_km
    verdict = (
        f"{math.floor(spare):,} km to spare"
        if outcome.fits
        else f"{math.ceil(-spare):,} km missing"
    )
    return BatteryBar(
        label, outcome.left_low_percent, outcome.left_high_percent, outcome.fits, verdict
    )


def _helps(result: DayResult) -> tuple[str, ...]:
    """Say what helps; where nothing asked for does, say that too."""
    if result.helps or result.new.fits:
        return tuple(told.sentence for told in result.helps)
    return (NOTHING_HELPS,)


def _notes(result: DayResult) -> tuple[str, ...]:
    defaults: Sequence[str] = (DEFAULTS_NOTE,) if result.of_default_completion else ()
    return (*defaults, *result.assumptions)
