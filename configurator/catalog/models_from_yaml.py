"""Plain values to frozen models, with what pydantic would let pass but a person did not mean."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Generic, TypeVar

from pydantic import BaseModel, TypeAdapter, ValidationError

from configurator.catalog.document import Keys, shown, spoken
from configurator.catalog.model_faults import RawEntry, model_faults
from configurator.errors import Fault

Model = TypeVar("Model")
Model_co = TypeVar("Model_co", covariant=True)


@dataclass(frozen=True)
class Entry(Generic[Model_co]):
    """A model with the place in the files where it stands."""

    value: Model_co
    raw: RawEntry

    def where(self, *keys: str | int) -> str:
        """Say file and line of something inside the entry."""
        return self.raw.where(*keys)


def entry_from_raw(
    raw: RawEntry, annotation: Any, adapter: TypeAdapter[Model]
) -> tuple[Entry[Model] | None, tuple[Fault, ...]]:
    """Make one model.

    Parameters
    ----------
    raw : RawEntry
        The entry as it was read.
    annotation, adapter
        The model and what makes it.

    Returns
    -------
    tuple
        The entry, or None, and every fault of it.
    """
    try:
        value = adapter.validate_python(raw.value)
    except ValidationError as error:
        return None, model_faults(error, raw, adapter, annotation)
    faults = tuple(
        Fault("C022", raw.where(*keys), f"{spoken(keys)} is {shown(written)}; {why}", remedy)
        for keys, written, why, remedy in _misread(raw.value, value, ())
    )
    return (None if faults else Entry(value, raw)), faults


def _misread(written: object, read: object, keys: Keys) -> Iterator[tuple[Keys, object, str, str]]:
    """Walk what was written beside what it became; a silent conversion is a fault."""
    if isinstance(written, Mapping):
        for key, inner in written.items():
            yield from _misread(inner, _inside(read, key), (*keys, key))
    elif isinstance(written, list):
        if isinstance(read, Sequence) and len(read) == len(written):
            for number, inner in enumerate(written):
                yield from _misread(inner, read[number], (*keys, number))
    elif isinstance(written, bool) != isinstance(read, bool):
        yield keys, written, "true and false are not numbers or texts", "Write what is meant."
    elif isinstance(read, float) and not math.isfinite(read):
        yield keys, written, "it must be a finite number", "Write the number."
    elif isinstance(read, date) and str(written) != read.isoformat():
        why = "it must be a day"
        yield keys, written, why, "Write year-month-day, such as 2026-05-01."


def _inside(read: object, key: str) -> object:
    if isinstance(read, BaseModel):
        return getattr(read, key, None)
    if isinstance(read, Mapping):
        return next((value for known, value in read.items() if str(known) == key), None)
    return None
