"""Read the survey of the donor as a form sends it: every entry that cannot be, with why."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from configurator.build_spec.days import day_in_words
from configurator.catalog.models.build import Donor, SecondDonor, SurveyLine
from configurator.errors import ChoiceError, Fault

ENTRY_LABELS: dict[str, str] = {
    "verdict": "Verdict",
    "hours": "Hours",
    "parts_gbp": "Parts",
    "provisional_gbp": "Provisional sum",
    "origin": "Origin",
    "note": "Note",
    "description": "The donor as it came",
    "identity_mark": "Identity mark",
    "front_axle_kg": "Front axle",
    "rear_axle_kg": "Rear axle",
    "left_side_kg": "Left wheels",
    "right_side_kg": "Right wheels",
    "weighed_on": "Weighed on",
}
"""Entry → what people see it called."""

UNITS: dict[str, tuple[str, str]] = {
    "hours": ("", " h"),
    **dict.fromkeys(("parts_gbp", "provisional_gbp"), ("£", "")),
    **dict.fromkeys(
        ("front_axle_kg", "rear_axle_kg", "left_side_kg", "right_side_kg"), ("", " kg")
    ),
}
"""Entry → what stands before and after its figure."""

FINEST = {"hours": Decimal("0.1"), "parts_gbp": Decimal("0.01"), "provisional_gbp": Decimal("0.01")}
"""Entry → the step it is kept in, so that the same figure is the same spec."""

PAIRS = (("front_axle_kg", "rear_axle_kg"), ("left_side_kg", "right_side_kg"))
"""Weighed together: one alone says nothing."""

MOST_APART_PERCENT = 5
"""Two weighings of one vehicle lie nearer to each other; common practice, no source."""

_Model = TypeVar("_Model", bound=BaseModel)


def read_line(written: Mapping[str, object]) -> SurveyLine:
    """Read the verdict on a part as a form sends it.

    Raises
    ------
    ChoiceError
        With a fault of code P018 for every entry that cannot be.

    Examples
    --------
    >>> read_line({"part": "doors", "verdict": "repair", "hours": "7.5"}).hours
    Decimal('7.5')
    >>> try:
    ...     read_line({"part": "doors", "verdict": "repair", "parts_gbp": "a lot"})
    ... except ChoiceError as error:
    ...     print(error.faults[0])
    Parts: “a lot” is no number. Write it in digits, such as 7.5. [P018]
    """
    line, faults = _read(SurveyLine, written, "")
    if line is None or faults:
        raise ChoiceError(faults)
    figures = {name: getattr(line, name) for name in FINEST}
    return line.model_copy(
        update={
            # The sign of a zero would stay with it.
            name: abs(figure.quantize(FINEST[name]))
            for name, figure in figures.items()
            if figure is not None
        }
    )


def read_donors(
    donor: Mapping[str, object], second: Mapping[str, object] | None, today: date
) -> tuple[Donor, SecondDonor | None]:
    """Read what is known of one donor or two as a form sends it.

    Raises
    ------
    ChoiceError
        With a fault of code P018 for every entry that cannot be.

    Examples
    --------
    >>> first, second = read_donors({"front_axle_kg": 640, "rear_axle_kg": 410}, None, date.today())
    >>> first.axles_were_weighed, second
    (True, None)
    """
    first, faults = _read(Donor, donor, "")
    other, wrong = (None, []) if second is None else _read(SecondDonor, second, "Second donor, ")
    faults += wrong
    if first is not None:
        faults += _weighing_faults(first, today)
    if first is None or faults:
        raise ChoiceError(faults)
    return first, other


def _read(
    model: type[_Model], written: Mapping[str, object], before: str
) -> tuple[_Model | None, list[Fault]]:
    try:
        return model.model_validate(dict(written)), []
    except ValidationError as error:
        return None, [_fault(details, before) for details in error.errors()]


def _weighing_faults(donor: Donor, today: date) -> list[Fault]:
    faults = []
    for one, other in PAIRS:
        if (getattr(donor, one) is None) != (getattr(donor, other) is None):
            names = ENTRY_LABELS[one], ENTRY_LABELS[other]
            what = "one of the two was weighed, and one alone counts for nothing"
            remedy = "Weigh both, or leave both empty."
            faults.append(Fault("P018", " and ".join(names), what, remedy))
    axles_kg, sides_kg = (_together_kg(donor, pair) for pair in PAIRS)
    if axles_kg and sides_kg and abs(axles_kg - sides_kg) > axles_kg * MOST_APART_PERCENT / 100:
        what = f"the axles weigh {axles_kg:,.0f} kg together, and the sides {sides_kg:,.0f} kg"
        remedy = "It is one vehicle: weigh again, or leave one of the two pairs empty."
        faults.append(Fault("P018", "Axles and sides", what, remedy))
    if donor.weighed_on is not None and donor.weighed_on > today:
        what = f"the day, {day_in_words(donor.weighed_on)}, is still to come"
        faults.append(Fault("P018", "Weighed on", what, "Write the day of the weighing."))
    return faults


def _together_kg(donor: Donor, pair: tuple[str, str]) -> float | None:
    one, other = (getattr(donor, name) for name in pair)
    return None if one is None or other is None else one + other


def _fault(details: ErrorDetails, before: str) -> Fault:
    name = str(details["loc"][0]) if details["loc"] else ""
    what, remedy = _said(details, name)
    return Fault("P018", f"{before}{ENTRY_LABELS.get(name, 'Survey')}", what, remedy)


def _said(details: ErrorDetails, name: str) -> tuple[str, str]:
    """Say what is wrong with an entry, and what to do."""
    kind, bounds = details["type"], details.get("ctx", {})
    given = f"“{str(details['input'])[:40]}”"
    if name == "verdict":
        is_empty = kind == "missing" or not details["input"]
        return "none is taken" if is_empty else f"there is no {given}", "Take one of the three."
    if name in UNITS:
        return _figure_said(kind, bounds, name, given)
    if kind == "string_too_long":
        return f"{given} goes on too long", f"Write at most {bounds['max_length']} characters."
    reason = str(bounds.get("error", details["msg"]))
    return f"{given} cannot be: {reason[:1].lower()}{reason[1:]}", "Correct it."


def _figure_said(kind: str, bounds: Mapping[str, Any], name: str, given: str) -> tuple[str, str]:
    sign, unit = UNITS[name]
    if kind == "less_than_equal":
        return f"{given} is too much", f"Write at most {sign}{bounds['le']:,.10g}{unit}."
    if kind == "greater_than_equal":
        return f"{given} is too little", f"Write at least {sign}{bounds['ge']:,.10g}{unit}."
    if kind.startswith("decimal_max"):
        step = f"{FINEST[name]}"
        return f"{given} is too fine", f"Write it in steps of {sign}{step}{unit}."
    return f"{given} is no number", "Write it in digits, such as 7.5."
