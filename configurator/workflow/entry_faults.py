"""Say what is wrong with the entries of a form, in our words and in the units people type."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from configurator.errors import Fault

NOTHING = "nothing stands there"
IN_DIGITS = "Write it in digits, such as 7.5."
_BOUNDS = {
    "less_than_equal": ("le", "much", "at most"),
    "less_than": ("lt", "much", "less than"),
    "greater_than_equal": ("ge", "little", "at least"),
    "greater_than": ("gt", "little", "more than"),
}
"""Kind of a fault → where its bound stands, and the words for it."""
_LENGTHS = {
    "string_too_long": ("{given} goes on too long", "Write at most {max_length} characters."),
    "string_too_short": ("{given} is too short", "Write at least {min_length} characters."),
    "too_long": ("there are {actual_length}", "Write at most {max_length}."),
    "too_short": ("there are {actual_length}", "Write at least {min_length}."),
}
"""Kind of a fault → what is wrong, and what to do."""
_Model = TypeVar("_Model", bound=BaseModel)


@dataclass(frozen=True)
class Entry:
    """What people see an entry called, and how they type it."""

    label: str
    if_empty: str = "Write what belongs there."
    """What to do where it must be there and is not."""
    empty: str = NOTHING
    is_figure: bool = False
    sign: str = ""
    """Before the figure, such as £."""
    unit: str = ""
    finest: Decimal | None = None
    """The step it is kept in, so that the same figure is the same spec."""

    def with_unit(self, figure: float | Decimal | str) -> str:
        """Write a figure as people read it."""
        written = figure if isinstance(figure, str) else f"{figure:,.10g}"
        return f"{self.sign}{written}{' ' if self.unit else ''}{self.unit}"


def figure(label: str, unit: str = "", finest: str = "") -> Entry:
    """Describe an entry that is a figure; pounds stand before it, another unit after it."""
    sign, after = (unit, "") if unit == "£" else ("", unit)
    step = Decimal(finest) if finest else None
    return Entry(label, if_empty=IN_DIGITS, is_figure=True, sign=sign, unit=after, finest=step)


def entry_faults(
    error: ValidationError,
    code: str,
    entries: Mapping[str, Entry],
    whole: str,
    *,
    before: str = "",
    numbered: Mapping[str, str] | None = None,
) -> list[Fault]:
    """Say each fault of what a form sent.

    Parameters
    ----------
    error : ValidationError
        Of the model that the form is read into.
    code : str
        Of the faults.
    entries : mapping of str to Entry
        By the name of the field.
    whole : str
        What the form is called, for a fault of no single entry.
    before : str
        Put before the name of each entry.
    numbered : mapping of str to str, optional
        Field that is a list → what one of it is called, counted from 1.

    Examples
    --------
    >>> class Sale(BaseModel):
    ...     amount_gbp: Decimal
    >>> try:
    ...     Sale.model_validate({"amount_gbp": "a lot"})
    ... except ValidationError as error:
    ...     print(*entry_faults(error, "P019", {"amount_gbp": figure("Discount", "£")}, "Sale"))
    Discount: “a lot” is no number. Write it in digits, such as 7.5. [P019]
    """
    return [
        Fault(code, f"{before}{_where(details['loc'], entries, whole, numbered or {})}", *said)
        for details in error.errors()
        for said in [_said(details, _entry(details["loc"], entries))]
    ]


def in_finest_steps(model: _Model, entries: Mapping[str, Entry]) -> _Model:
    """Write each figure in the step it is kept in, however it was typed."""
    steps = {
        # The sign of a zero would stay with it.
        name: abs(value.quantize(entry.finest))
        for name, entry in entries.items()
        if entry.finest is not None and isinstance(value := getattr(model, name, None), Decimal)
    }
    return model.model_copy(update=steps)


def _entry(place: Sequence[str | int], entries: Mapping[str, Entry]) -> Entry | None:
    names = [part for part in place if isinstance(part, str) and part in entries]
    return entries[names[-1]] if names else None


def _where(
    place: Sequence[str | int],
    entries: Mapping[str, Entry],
    whole: str,
    numbered: Mapping[str, str],
) -> str:
    entry = _entry(place, entries)
    counted = [
        f", {numbered[name]} {number + 1}"
        for name, number in pairwise(place)
        if isinstance(name, str) and name in numbered and isinstance(number, int)
    ]
    return "".join((entry.label if entry else whole, *counted))


def _said(details: ErrorDetails, entry: Entry | None) -> tuple[str, str]:
    """Say what is wrong with an entry, and what to do."""
    kind, typed, bounds = details["type"], details["input"], details.get("ctx", {})
    given = f"“{str(typed)[:40]}”"
    if kind == "extra_forbidden":
        return f"“{str(details['loc'][-1])[:40]}” is no entry of it", "Leave it out."
    if entry is not None and (kind == "missing" or typed is None or not str(typed).strip()):
        return entry.empty, entry.if_empty
    if entry is not None and entry.is_figure and not isinstance(typed, list | tuple):
        return _figure_said(kind, bounds, given, entry)
    return _words_said(kind, bounds, given, details)


def _figure_said(kind: str, bounds: Mapping[str, Any], given: str, entry: Entry) -> tuple[str, str]:
    if kind in _BOUNDS:
        bound, wrong, right = _BOUNDS[kind]
        return f"{given} is too {wrong}", f"Write {right} {entry.with_unit(bounds[bound])}."
    if kind.startswith("decimal_max") and entry.finest is not None:
        step = entry.with_unit(f"{entry.finest}")
        return f"{given} is too fine", f"Write it in steps of {step}."
    return f"{given} is no number", IN_DIGITS


def _words_said(
    kind: str, bounds: Mapping[str, Any], given: str, details: ErrorDetails
) -> tuple[str, str]:
    if kind in _LENGTHS:
        wrong, right = _LENGTHS[kind]
        return wrong.format(given=given, **bounds), right.format(**bounds)
    if kind.startswith("date"):
        return f"{given} is no day", "Write day, month and year."
    if kind == "literal_error":
        return f"there is no {given}", "Take one of those offered."
    reason = str(bounds.get("error", details["msg"]))
    if isinstance(details["input"], str | int | float):
        reason = f"{given} cannot be: {reason[:1].lower()}{reason[1:]}"
    return reason, "Correct it."
