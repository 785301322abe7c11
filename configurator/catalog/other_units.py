"""Recognise a number that was meant in another unit than the key's."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import TypeAdapter, ValidationError

from configurator.catalog.document import Keys
from configurator.catalog.plausible import name_of_number


@dataclass(frozen=True)
class BetterNumber:
    """The number in the key's unit, and the unit in which it seems to be written."""

    value: float
    unit: str


def _divided_by(divisor: float) -> Callable[[float], float]:
    return lambda value: value / divisor


_KELVIN_AT_ZERO_C = 273.15
_PSI_PER_BAR = 14.503774
_KPA_PER_BAR = 100.0
_OTHER_UNITS: dict[str, tuple[tuple[str, Callable[[float], float]], ...]] = {
    "m": (("millimetres", _divided_by(1000)), ("centimetres", _divided_by(100))),
    "kg": (("grams", _divided_by(1000)),),
    "kw": (("watts", _divided_by(1000)),),
    "w": (("kilowatts", lambda value: value * 1000),),
    "kwh": (("watt-hours", _divided_by(1000)),),
    "v": (("millivolts", _divided_by(1000)),),
    "ohm": (("milliohms", _divided_by(1000)),),
    "percent": (("a share of 1", lambda value: value * 100),),
    "bar": (("kilopascals", _divided_by(_KPA_PER_BAR)), ("psi", _divided_by(_PSI_PER_BAR))),
    "c": (("kelvins", lambda value: value - _KELVIN_AT_ZERO_C),),
    "efficiency": (("percent", _divided_by(100)),),
}


def in_the_right_unit(
    adapter: TypeAdapter[Any], raw: object, keys: Keys, value: object
) -> BetterNumber | None:
    """Find the unit in which a refused number would have been right.

    Parameters
    ----------
    adapter : TypeAdapter
        The model of the whole entry, asked whether a candidate fits.
    raw : object
        The entry as it was read.
    keys : Keys
        The way to the number; the end of its last key is the unit.
    value : object
        The number as written.

    Returns
    -------
    BetterNumber or None
        None where no usual mix-up explains it.
    """
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    for unit, convert in _mix_ups(keys):
        candidate = round(convert(float(value)), 6)
        if candidate != value and _fits(adapter, raw, keys, candidate):
            return BetterNumber(candidate, unit)
    return None


def _mix_ups(keys: Keys) -> Iterator[tuple[str, Callable[[float], float]]]:
    named = name_of_number(keys)
    yield from _OTHER_UNITS.get(named.rsplit("_", 1)[-1], ())


def _fits(adapter: TypeAdapter[Any], raw: object, keys: Keys, candidate: float) -> bool:
    changed = copy.deepcopy(raw)
    holder: Any = changed
    for key in keys[:-1]:
        holder = holder[key]
    holder[keys[-1]] = candidate
    try:
        adapter.validate_python(changed)
    except ValidationError as error:
        return not any(
            tuple(part for part in details["loc"] if part in keys) in {keys, keys[:-1]}
            for details in error.errors()
        )
    return True
