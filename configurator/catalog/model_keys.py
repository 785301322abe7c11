"""Which keys a place in a file may have, read from the models themselves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from configurator.catalog.document import Keys


def known_keys(annotation: Any, raw: object, keys: Keys) -> frozenset[str]:
    """Name the keys that a mapping may have.

    Parameters
    ----------
    annotation : type
        The model of the whole entry.
    raw : object
        The entry as it was read.
    keys : Keys
        The way to the mapping inside the entry.

    Returns
    -------
    frozenset of str
        Empty where the mapping may have any key.

    Examples
    --------
    >>> from configurator.catalog.models.workshop import Trade
    >>> sorted(known_keys(Trade, {}, ()))
    ['id', 'label', 'rate_gbp_per_hour']
    """
    models = list(_models(annotation))
    for key in keys:
        models = (
            [
                inner
                for model in models
                if (field := model.model_fields.get(str(key))) is not None
                for inner in _models(field.annotation)
            ]
            if not isinstance(key, int) and any(str(key) in m.model_fields for m in models)
            else models
        )
        raw = _step(raw, key)
    return frozenset(name for model in _of_kind(models, raw) for name in model.model_fields)


def _step(raw: object, key: str | int) -> object:
    if isinstance(raw, Mapping):
        return raw.get(key)
    if isinstance(raw, list) and isinstance(key, int) and key < len(raw):
        return raw[key]
    return None


def _of_kind(models: list[type[BaseModel]], raw: object) -> list[type[BaseModel]]:
    kind = raw.get("kind") if isinstance(raw, Mapping) else None
    fitting = [
        model
        for model in models
        if (field := model.model_fields.get("kind")) is not None
        and kind in get_args(field.annotation)
    ]
    return fitting or models


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    """Unwrap optional, union, list and mapping types down to the models inside."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    elif get_origin(annotation) is not None:
        for inner in get_args(annotation):
            yield from _models(inner)
