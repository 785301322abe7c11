"""Which fields of vehicle, workshop and fitted parts a placeholder may show."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from configurator.catalog.models import component
from configurator.catalog.models.vehicle import Vehicle
from configurator.catalog.models.workshop import Workshop

_SHOWN_TYPES = (str, int, float, Decimal, date)


@cache
def _owners() -> dict[str, type[BaseModel]]:
    parts: tuple[type[BaseModel], ...] = get_args(get_args(component.Component)[0])
    of_slot = {get_args(part.model_fields["kind"].annotation)[0]: part for part in parts}
    return {"vehicle": Vehicle, "workshop": Workshop, **of_slot}


def placeholder_owners() -> tuple[str, ...]:
    """Name what may stand before the dot: vehicle, workshop and each slot."""
    return tuple(_owners())


def fields_of(owner: str) -> frozenset[str]:
    """Name the fields that may stand behind the dot: texts, numbers and days.

    Examples
    --------
    >>> "full_voltage_v" in fields_of("pack"), "outline" in fields_of("vehicle")
    (True, False)
    """
    fields = _owners()[owner].model_fields
    return frozenset(name for name, field in fields.items() if _is_shown(field.annotation))


def _is_shown(annotation: Any) -> bool:
    if get_origin(annotation) is not None:
        values = get_args(annotation)
        return bool(values) and all(isinstance(value, str | int) for value in values)
    return isinstance(annotation, type) and issubclass(annotation, _SHOWN_TYPES)
