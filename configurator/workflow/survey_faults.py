"""Read the survey of the donor as a form sends it: every entry that cannot be, with why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from math import inf
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from configurator.build_life.people import same_name
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

SECOND = "Second donor, "
DAY = ENTRIES["weighed_on"].label

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
    donor: Mapping[str, object],
    second: Mapping[str, object] | None,
    today: date,
    gross_mass_limit_kg: float = inf,
) -> tuple[Donor, SecondDonor | None]:
    """Read what is known of one donor or two as a form sends it.

    Parameters
    ----------
    donor, second : mapping
        Entries of `Donor` and `SecondDonor`; no second for one donor.
    today : date
        A weighing is not later.
    gross_mass_limit_kg : float
        What the vehicle may weigh laden [kg].

    Raises
    ------
    ChoiceError
        With a fault of code P018 for every entry that cannot be.

    Examples
    --------
    >>> weighed = {"front_axle_kg": 640, "rear_axle_kg": 410, "weighed_on": date(2026, 3, 4)}
    >>> first, second = read_donors(weighed, None, date(2026, 3, 5))
    >>> first.axles_were_weighed, second
    (True, None)
    """
    first, faults = _read(Donor, donor, "")
    other, wrong = (None, []) if second is None else _read(SecondDonor, second, SECOND)
    faults += wrong
    if first is not None:
        faults += _weighing_faults(first, today)
        faults += _heavier_than_laden(first, gross_mass_limit_kg)
    if first is not None and other is not None:
        faults += _same_vehicle(first, other)
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
    weights = [getattr(donor, name) for pair in PAIRS for name in pair]
    if donor.weighed_on is None and any(weight is not None for weight in weights):
        what = "the weights were typed without it, and a weight holds for its day"
        faults.append(Fault("P018", DAY, what, "Write the day of the weighing."))
    if donor.weighed_on is not None and donor.weighed_on > today:
        what = f"the day, {day_in_words(donor.weighed_on)}, is still to come"
        faults.append(Fault("P018", DAY, what, "Write the day of the weighing."))
    return faults


def _heavier_than_laden(donor: Donor, gross_mass_limit_kg: float) -> Iterator[Fault]:
    """Refuse a part of the empty vehicle that weighs more than all of it may weigh laden."""
    for name in (name for pair in PAIRS for name in pair):
        weight_kg: float | None = getattr(donor, name)
        if weight_kg is not None and weight_kg > gross_mass_limit_kg:
            what = (
                f"it was typed as {weight_kg:,.0f} kg, and the whole vehicle may weigh "
                f"{gross_mass_limit_kg:,.0f} kg laden"
            )
            remedy = "Check the figure and its unit, or weigh again."
            yield Fault("P018", ENTRIES[name].label, what, remedy)


def _same_vehicle(donor: Donor, second: SecondDonor) -> Iterator[Fault]:
    """Refuse one identity mark for both, however it is spaced and capitalised."""
    marks = ["".join(same_name(each.identity_mark).split()) for each in (donor, second)]
    if marks[0] and marks[0] == marks[1]:
        what = f"“{second.identity_mark}” is that of the donor too, and they are two vehicles"
        remedy = "Correct one of the two, or leave that of the second empty."
        yield Fault("P018", f"{SECOND}{ENTRIES['identity_mark'].label}", what, remedy)


def _together_kg(donor: Donor, pair: tuple[str, str]) -> float | None:
    one, other = (getattr(donor, name) for name in pair)
    return None if one is None or other is None else one + other
