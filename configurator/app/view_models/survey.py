"""The survey of the donor, as the screen shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from configurator.app.view_models.words import count, money
from configurator.build_spec.survey import of_unknown_origin
from configurator.catalog.models.build import SurveyLine, Verdict
from configurator.catalog.models.text import SafetyMessage
from configurator.documents.figures import pounds
from configurator.workflow.survey import PartState, SurveyState

SURVEY_CARE = SafetyMessage(
    signal="warning",
    hazard="A vehicle on a ramp or on stands can fall, and an old one may hold fuel, asbestos, "
    "springs under load and rust that gives way.",
    consequence="Whoever is under it or beside it is crushed, burnt or made ill.",
    avoid=(
        "Let trained people lift it, at points that hold, on stands as well as the jack.",
        "Drain the fuel and take the 12 V battery off before anything is cut or ground.",
        "Take old linings and lagging for asbestos until somebody competent says otherwise.",
        "A verdict here is the workshop's own; a competent person decides on brakes, steering, "
        "frame and belts.",
    ),
)
AREAS: Mapping[str, str] = {
    "body": "Body",
    "chassis": "Chassis",
    "running-gear": "Running gear",
    "brakes": "Brakes",
    "interior": "Interior",
    "electrical": "Electrical",
}
NOT_LOOKED_AT = "not looked at"
VERDICT_WORDS: Mapping[Verdict, str] = {
    "keep": "Keep it as it is",
    "repair": "Repair it",
    "replace": "Replace it",
}
TO_READ = "Maker and marks are to be read on the vehicle"
# Source of what is not fitted again: common practice, no source.
ORIGIN_NEEDED = (
    "Maker and marks must be known: a brake, steering or restraint part of unknown make is not "
    "fitted. On a new part they are read before the handover, on the page As built. Used seat "
    "belts, brake hoses, linings and tyres of a crashed or long stored vehicle are not fitted "
    "again: they may be strained or aged unseen, and fail when somebody's life hangs on them."
)


@dataclass(frozen=True)
class PartRow:
    """A part in the table of its area."""

    label: str
    verdict: str
    found: str
    """Class of the verdict's mark."""
    hours: str
    amount: str
    provisional: str
    told: str
    """Where it comes from, and what was noted."""


@dataclass(frozen=True)
class TypedLine:
    """What the form of a part shows at first."""

    verdict: Verdict | None
    hours: str
    parts: str
    provisional: str
    origin: str
    from_second_donor: bool
    note: str


def brief_words(state: SurveyState) -> str:
    """Say how far the survey is and what it comes to."""
    done = len(state.parts) - len(state.not_looked_at)
    looked = f"{done} of {count(len(state.parts), 'part', 'parts')} looked at"
    sums = f"work on the donor's parts {money(state.amount_gbp)}"
    return f"{looked}; {sums}, provisional sums {money(state.provisional_gbp)}, with VAT."


def part_words(state: PartState) -> str:
    """Name a part in the list to choose from, with its verdict."""
    said = NOT_LOOKED_AT if state.line is None else state.line.verdict
    return f"{AREAS[state.part.area]}: {state.part.label} ({said})"


def verdict_words(state: PartState, verdict: Verdict) -> str:
    """Say what a verdict on a part usually comes to."""
    usual = state.usual[verdict]
    if usual.hours == 0 and usual.amount_gbp == 0:
        return VERDICT_WORDS[verdict]
    hours = f"{float(usual.hours):g} h"
    return f"{VERDICT_WORDS[verdict]}: usually {hours}, {money(usual.amount_gbp)} with VAT"


def area_rows(state: SurveyState) -> tuple[tuple[str, tuple[PartRow, ...]], ...]:
    """Group the parts by area, in the order of the workshop's list."""
    areas = dict.fromkeys(part.part.area for part in state.parts)
    return tuple(
        (AREAS[area], tuple(_row(part) for part in state.parts if part.part.area == area))
        for area in areas
    )


def typed_line(line: SurveyLine | None) -> TypedLine:
    """Say what the form of a part shows at first; what was left out stays empty.

    Examples
    --------
    >>> typed_line(None).verdict is None
    True
    """
    if line is None:
        return TypedLine(None, "", "", "", "", from_second_donor=False, note="")
    return TypedLine(
        line.verdict,
        _figure(line.hours),
        _figure(line.parts_gbp),
        _figure(line.provisional_gbp or None),
        line.origin,
        line.from_second_donor,
        line.note,
    )


def line_written(typed: TypedLine) -> dict[str, object]:
    """Write what was typed as the survey takes it: an empty figure is the usual one.

    Examples
    --------
    >>> line_written(TypedLine("keep", "", "", "", " here ", from_second_donor=False, note=""))
    {'verdict': 'keep', 'origin': 'here', 'from_second_donor': False, 'note': ''}
    """
    figures = {
        "hours": typed.hours,
        "parts_gbp": typed.parts,
        "provisional_gbp": typed.provisional,
    }
    told = {name: text.strip() for name, text in figures.items() if text.strip()}
    return {
        "verdict": typed.verdict or "",
        **told,
        "origin": typed.origin.strip(),
        "from_second_donor": typed.from_second_donor,
        "note": typed.note.strip(),
    }


def _figure(value: Decimal | None) -> str:
    return "" if value is None else f"{value}"


def _row(state: PartState) -> PartRow:
    result = state.result
    if result is None:
        return PartRow(state.part.label, "Not looked at", "not-stated", "", "", "", "")
    is_unknown = state.line is not None and of_unknown_origin(state.part, state.line)
    to_read = TO_READ if is_unknown else ""
    said = (result.origin, result.note, to_read)
    told = ". ".join(words.rstrip(".") for words in said if words)
    return PartRow(
        label=state.part.label,
        verdict=result.verdict.capitalize(),
        found="not-stated" if to_read else "kept",
        hours=f"{float(result.hours):g}",
        amount=pounds(result.amount_gbp),
        provisional=pounds(result.provisional_gbp) if result.provisional_gbp else "",
        told=f"{told}." if told else "",
    )
