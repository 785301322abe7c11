"""Say in our own words what the models refuse: where, what, why, what to do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from configurator.catalog.document import Document, Keys
from configurator.catalog.fault_wording import worded
from configurator.errors import Fault

_BRANCH_ERRORS = frozenset({"string_type", "model_type", "model_attributes_type", "float_type"})


@dataclass(frozen=True)
class RawEntry:
    """One entry of a file before it became a model."""

    document: Document
    keys: Keys
    value: object

    def where(self, *keys: str | int) -> str:
        """Say file and line of something inside the entry."""
        return self.document.where((*self.keys, *keys))

    def is_faulty_at(self, keys: Keys) -> bool:
        """Tell whether the reader already found a fault there."""
        return (*self.keys, *keys) in self.document.faulty_keys


def model_faults(
    error: ValidationError, entry: RawEntry, adapter: TypeAdapter[Any], annotation: Any
) -> tuple[Fault, ...]:
    """Translate what a model refused.

    Parameters
    ----------
    error : ValidationError
        What was refused.
    entry : RawEntry
        The entry as it was read.
    adapter, annotation
        The model that refused it.

    Returns
    -------
    tuple of Fault
        One for each place, in the order of the file.
    """
    placed = [(_keys_in(entry.value, details), details) for details in error.errors()]
    chosen: dict[Keys, ErrorDetails] = {}
    for keys, details in sorted(placed, key=lambda pair: _rank(pair[1], placed)):
        if not entry.is_faulty_at(keys) and not _is_inside(keys, details, chosen):
            chosen.setdefault(keys, details)
    return tuple(
        worded(entry, keys, details, adapter, annotation) for keys, details in chosen.items()
    )


def _rank(details: ErrorDetails, placed: Iterable[tuple[Keys, ErrorDetails]]) -> int:
    """Where a value may be a text or a mapping, believe the branch that was meant."""
    del placed
    value, kind = details["input"], details["type"]
    if kind == "string_type" and isinstance(value, Mapping):
        return 2
    if kind in _BRANCH_ERRORS and kind != "string_type":
        return 1
    return 0


def _is_inside(keys: Keys, details: ErrorDetails, chosen: Mapping[Keys, ErrorDetails]) -> bool:
    """Tell whether a refusal of the wrong branch is explained by one further in."""
    if _rank(details, ()) != 2:
        return False
    return any(other[: len(keys)] == keys for other in chosen)


def _keys_in(raw: object, details: ErrorDetails) -> Keys:
    """Find the way in the file: the model's own way also names branches of unions."""
    keys: list[str | int] = []
    location: Sequence[str | int] = details["loc"]
    for part in location:
        if isinstance(raw, Mapping) and str(part) in raw:
            keys.append(str(part))
            raw = raw[str(part)]
        elif isinstance(raw, list) and isinstance(part, int) and part < len(raw):
            keys.append(part)
            raw = raw[part]
    if details["type"] == "missing":
        keys.append(str(location[-1]))
    return tuple(keys)
