"""The wording of each kind of refusal by a model."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pydantic import TypeAdapter
from pydantic_core import ErrorDetails

from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import Keys, shown, spoken
from configurator.catalog.guesses import GUESSED_FROM
from configurator.catalog.model_keys import known_keys
from configurator.catalog.other_units import in_the_right_unit
from configurator.catalog.plausible import IMPLAUSIBLE, plausible_at, slip_of_the_point
from configurator.errors import Fault

if TYPE_CHECKING:
    from configurator.catalog.model_faults import RawEntry


@dataclass(frozen=True)
class _Refusal:
    """All that a wording may need."""

    entry: RawEntry
    keys: Keys
    details: ErrorDetails
    adapter: TypeAdapter[Any]
    annotation: Any

    @property
    def name(self) -> str:
        return spoken(self.keys)

    @property
    def is_value(self) -> str:
        return f"{self.name} is {shown(self.details['input'])}"

    @property
    def context(self) -> Mapping[str, Any]:
        return self.details.get("ctx", {})

    @property
    def known(self) -> frozenset[str]:
        return known_keys(self.annotation, self.entry.value, self.keys[:-1])


Said = tuple[str, str, str]
"""Code, what, remedy."""


def worded(
    entry: RawEntry, keys: Keys, details: ErrorDetails, adapter: TypeAdapter[Any], annotation: Any
) -> Fault:
    """Say one refusal as a fault.

    Parameters
    ----------
    entry : RawEntry
        The entry as it was read.
    keys : Keys
        The way to the value inside the entry.
    details : ErrorDetails
        What the model said.
    adapter, annotation
        The model.

    Returns
    -------
    Fault
        With file and line.
    """
    if details["type"] == IMPLAUSIBLE:
        keys, details = (*keys, "value"), {**details, "input": details["input"]["value"]}
    refusal = _Refusal(entry, keys, details, adapter, annotation)
    say = _WORDINGS.get(details["type"], _wrong_form)
    if isinstance(details["input"], bool) and say is _out_of_bounds:
        say = _wrong_kind(_NUMBER)
    code, what, remedy = say(refusal)
    if details["type"] == "union_tag_invalid":
        keys = (*keys, "kind")
    return Fault(code, entry.where(*keys), what, remedy)


def _unknown_key(refusal: _Refusal) -> Said:
    key = str(refusal.keys[-1]) if refusal.keys else "this key"
    inside = f" in {spoken(refusal.keys[:-1])}" if refusal.keys[:-1] else ""
    what = f"{shown(key)}{inside} is a key that nobody knows; what is not read must not be believed"
    return "C020", what, did_you_mean(key, refusal.known)


def _missing_key(refusal: _Refusal) -> Said:
    inside = f" in {spoken(refusal.keys[:-1])}" if refusal.keys[:-1] else ""
    key = refusal.keys[-1] if refusal.keys else "kind"
    what = f'"{key}" is missing{inside}; an unknown value is never taken as 0'
    other = GUESSED_FROM.get(str(key))
    guess = f', or "{other}: …" to have it guessed' if other else ""
    return "C021", what, f'Add a line "{key}: …" there{guess}.'


def _wrong_kind(wanted: str) -> Callable[[_Refusal], Said]:
    def say(refusal: _Refusal) -> Said:
        value = refusal.details["input"]
        if isinstance(value, list | Mapping) or wanted in {"a list", "a mapping"}:
            code = "C013"
        else:
            code = "C022"
        remedy = f"Write {wanted}."
        if wanted == "a text" and not isinstance(value, list | Mapping) and value is not None:
            remedy = f'Put it in quotes: "{value}".'
        return code, f"{refusal.is_value}; it must be {wanted}", remedy

    return say


def _out_of_bounds(refusal: _Refusal) -> Said:
    value = refusal.details["input"]
    can_be = plausible_at(refusal.entry.value, refusal.keys)
    if can_be is not None and refusal.details["type"] != "finite_number":
        bound = can_be.in_words
    else:
        can_be, bound = None, f"it must be {_bound_in_words(refusal)}"
    better = in_the_right_unit(refusal.adapter, refusal.entry.value, refusal.keys, value)
    if better is not None:
        what = f"{refusal.is_value}; {bound}, and this looks like {better.unit}"
        return "C024", what, f"Write {better.value:g}."
    meant = None if can_be is None else slip_of_the_point(float(value), can_be)
    if meant is not None:
        return "C023", f"{refusal.is_value}; {bound}", f"Write {meant:g} if that was meant."
    remedy = "Write a number in between; the unit is in the key."
    if can_be is None:
        remedy = f"Write a number {_bound_in_words(refusal)}; the unit is in the key."
    if str(refusal.keys[-1:]).count("mass") and isinstance(value, int | float) and value < 0:
        remedy = 'Write the mass as a positive number; what comes out stands under "takes_out".'
    return "C023", f"{refusal.is_value}; {bound}", remedy


_BOUND_WORDS = {"gt": "greater than", "ge": "at least", "lt": "less than", "le": "at most"}


def _bound_in_words(refusal: _Refusal) -> str:
    for short, words in _BOUND_WORDS.items():
        if short in refusal.context:
            return f"{words} {refusal.context[short]}"
    return "a finite number"


def _wrong_pattern(refusal: _Refusal) -> Said:
    pattern = str(refusal.context.get("pattern", ""))
    if pattern.startswith("^[a-z0-9]+(-"):
        what = f"{refusal.is_value}; an id is small letters and digits with single hyphens between"
        return (
            "C025",
            what,
            f'Write "{_as_id(str(refusal.details["input"]))}", everywhere it is named.',
        )
    if pattern.startswith("^#"):
        what = f"{refusal.is_value}; a colour is # and six small hexadecimal digits"
        return "C029", what, 'Write it like "#2f4a5c", in quotes.'
    if pattern.startswith("^B-"):
        what = f"{refusal.is_value}; a reference is B- and four to six digits"
        return "C029", what, 'Write it like "B-0007".'
    return _wrong_form(refusal)


def _as_id(text: str) -> str:
    words = "".join(sign if sign.isascii() and sign.isalnum() else " " for sign in text.lower())
    return "-".join(words.split())[:60] or "an-id-like-this"


def _wrong_length(refusal: _Refusal) -> Said:
    least = refusal.context.get("min_length")
    most = refusal.context.get("max_length")
    wanted = f"at least {least}" if least is not None else f"at most {most}"
    if refusal.details["type"].startswith("string"):
        length = len(str(refusal.details["input"]).strip())
        what = f"{refusal.is_value}, {length} characters long; it must have {wanted}"
        return "C026", what, "Fill it." if length == 0 else f"Write {wanted} characters."
    what = (
        f"{refusal.name} has {refusal.context.get('actual_length')} entries; it must have {wanted}"
    )
    return "C031", what, f"Give {wanted}."


def _not_allowed(refusal: _Refusal) -> Said:
    expected = str(refusal.context.get("expected") or refusal.context.get("expected_tags") or "")
    allowed = [name.strip().strip("'") for name in expected.replace(" or ", ", ").split(",")]
    value = refusal.details["input"]
    if refusal.details["type"] == "union_tag_invalid":
        value = refusal.context.get("tag")
        name = spoken((*refusal.keys, "kind"))
        return (
            "C027",
            f"{name} is {shown(value)}; it must be one of those known",
            did_you_mean(str(value), allowed),
        )
    if refusal.details["loc"][-1:] == ("[key]",):
        return "C053", f"{refusal.name} is no slot of a vehicle", did_you_mean(str(value), allowed)
    what = f"{refusal.is_value}; it must be one of those known"
    return "C027", what, did_you_mean(str(value), allowed)


def _contradiction(refusal: _Refusal) -> Said:
    words = str(refusal.context.get("error", refusal.details["msg"]))
    if "quoted decimal" in words:
        what = f"{refusal.is_value} without quotes; an amount must be exact"
        return "C028", what, f'Write "{_as_money(refusal.details["input"])}" with quotes.'
    return "C030", f"{refusal.name}: {words}", "Give what is missing, or take one of the two out."


def _as_money(value: object) -> str:
    return f"{value:.2f}" if isinstance(value, float) else str(value)


def _wrong_decimal(refusal: _Refusal) -> Said:
    places = refusal.context.get("decimal_places")
    if places is not None and refusal.details["type"] == "decimal_max_places":
        what = f"{refusal.is_value}; it may have at most {places} decimal places"
    else:
        what = f"{refusal.is_value}; it must be a decimal number"
    return "C028", what, 'Write a decimal in quotes, such as "1250.00" or "7.5".'


def _wrong_date(refusal: _Refusal) -> Said:
    what = f"{refusal.is_value}; it must be a day"
    return "C022", what, "Write year-month-day, such as 2026-05-01."


def _wrong_form(refusal: _Refusal) -> Said:
    what = f"{refusal.is_value}; it does not have the form it must have"
    return "C029", what, "Compare it with another entry of the same kind."


_NUMBER = "a number"
_WORDINGS: dict[str, Callable[[_Refusal], Said]] = {
    "extra_forbidden": _unknown_key,
    "missing": _missing_key,
    "union_tag_not_found": lambda refusal: (
        "C021",
        f'"kind" is missing in {refusal.name}; it says which data the entry has',
        'Add a line "kind: …", such as "kind: pack".',
    ),
    "string_type": _wrong_kind("a text"),
    "float_type": _wrong_kind(_NUMBER),
    "float_parsing": _wrong_kind(_NUMBER),
    "int_type": _wrong_kind("a whole number"),
    "int_parsing": _wrong_kind("a whole number"),
    "int_from_float": _wrong_kind("a whole number"),
    "int_parsing_size": _wrong_kind("a whole number"),
    "bool_type": _wrong_kind("true or false"),
    "bool_parsing": _wrong_kind("true or false"),
    "dict_type": _wrong_kind("a mapping"),
    "model_type": _wrong_kind("a mapping"),
    "model_attributes_type": _wrong_kind("a mapping"),
    "tuple_type": _wrong_kind("a list"),
    "list_type": _wrong_kind("a list"),
    IMPLAUSIBLE: _out_of_bounds,
    "finite_number": _out_of_bounds,
    "greater_than": _out_of_bounds,
    "greater_than_equal": _out_of_bounds,
    "less_than": _out_of_bounds,
    "less_than_equal": _out_of_bounds,
    "string_pattern_mismatch": _wrong_pattern,
    "string_too_short": _wrong_length,
    "string_too_long": _wrong_length,
    "too_short": _wrong_length,
    "too_long": _wrong_length,
    "literal_error": _not_allowed,
    "union_tag_invalid": _not_allowed,
    "value_error": _contradiction,
    "decimal_type": _wrong_decimal,
    "decimal_parsing": _wrong_decimal,
    "decimal_max_places": _wrong_decimal,
    "decimal_max_digits": _wrong_decimal,
    "decimal_whole_digits": _wrong_decimal,
    "date_type": _wrong_date,
    "date_parsing": _wrong_date,
    "date_from_datetime_parsing": _wrong_date,
    "date_from_datetime_inexact": _wrong_date,
}
