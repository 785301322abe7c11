"""The customer's own day: conditions, what it takes, what is left, what helps."""

from __future__ import annotations

import math

from reportlab.platypus import Flowable, Table

from configurator.build_spec.day_result import DayOutcome, DayResult
from configurator.build_spec.range_section import age_in_words
from configurator.build_spec.spec import Spec
from configurator.documents.figures import number, span
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table, pairs_table
from configurator.drawings.battery_left import left_in_words

BAND_WORDS = (
    "Nine days in ten of this kind are likely to end above the low figure, one in ten above the "
    "high one. An estimate, never a promise: keep a reserve and know where you can charge."
)
OPEN_WORDS = "Choices still open are taken as the workshop would make them."


def day_blocks(spec: Spec) -> list[Flowable]:
    """Show the customer's day; nothing where none is stated or it cannot be computed."""
    day = spec.day
    if day is None:
        return []
    helps = " ".join(told.sentence for told in day.helps)
    rows = [
        ("The day", f"{number(day.distance_km)} km: {day.conditions}"),
        ("Energy by road", _legs(day)),
        ("What helps" if not day.new.fits else "What would leave more", helps),
    ]
    opened = (OPEN_WORDS,) if day.of_default_completion else ()
    note = " ".join((*opened, BAND_WORDS, *_taken_for_granted(day)))
    return [
        pairs_table([(label, words) for label, words in rows if words]),
        _outcomes(spec, day),
        small(note),
    ]


def _taken_for_granted(day: DayResult) -> tuple[str, ...]:
    return ("Taken for granted:", *day.assumptions) if day.assumptions else ()


def _legs(day: DayResult) -> str:
    return ", ".join(
        f"{leg.label.lower()} {number(leg.energy_kwh, 1)} kWh ({number(leg.share_percent)} %)"
        for leg in day.legs
    )


def _outcomes(spec: Spec, day: DayResult) -> Table:
    rows = [
        _row("New", day.new),
        _row(f"After {age_in_words(spec.workshop.aged)}", day.aged),
    ]
    head = ("Battery", "Takes, computed", "On return", "With the reserve kept", "Fits")
    return headed_table(head, rows, (0.26, 0.18, 0.26, 0.2, 0.1), strong=(4,))


def _row(battery: str, outcome: DayOutcome) -> tuple[str, ...]:
    spare = outcome.spare_low_km
    reach = (
        f"{math.floor(spare):,} km to spare" if spare >= 0 else f"{math.ceil(-spare):,} km missing"
    )
    return (
        battery,
        span(outcome.used_low_kwh, outcome.used_high_kwh, 1, "kWh"),
        left_in_words(outcome.left_low_percent, outcome.left_high_percent),
        reach,
        "yes" if outcome.fits else "no",
    )
