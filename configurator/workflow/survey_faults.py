"""Read the survey of the donor as a form sends it: every entry that cannot be, with why."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from configurator.build_spec.days import day_in_words
from configurator.catalog.models.build import Donor, SecondDonor, SurveyLine
from configurator.errors import ChoiceError, Fault
from configurator.workflow.entry_faults import Entry, entry_faults, figure, in_finest_steps

ENTRIES: dict[str, Entry] = {
    "verdict": Entry("Verdict", empty="none is taken", if_empty="Take one of the three."),
    "hours": figure("Hours", "h", "0.1"),
    "parts_gbp": figure("Parts", "£", "0.01"),
    "provisional_gbp": figure("Provisional sum", "£", "0.01"),
    "origin": Entry("Origin"),
    "note": Entry("Note"),
    "description": Entry("The donor as it came"),
    "identity_mark": Entry("Identity mark"),
    "front_axle_kg": figure("Front axle", "kg"),
    "rear_axle_kg": figure("Rear axle", "kg"),
    "left_side_kg": figure("Left wheels", "kg"),
    "right_side_kg": figure("Right wheels", "kg"),
    "weighed_on": Entry("Weighed on"),
}
"""What people see each entry called, and how they type it."""

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
    return in_finest_steps(line, ENTRIES)


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
        return None, entry_faults(error, "P018", ENTRIES, "Survey", before=before)


def _weighing_faults(donor: Donor, today: date) -> list[Fault]:
    faults = []
    for one, other in PAIRS:
        if (getattr(donor, one) is None) != (getattr(donor, other) is None):
            names = ENTRIES[one].label, ENTRIES[other].label
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
