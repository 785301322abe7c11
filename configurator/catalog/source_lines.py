"""Where in the files each entry of a catalog stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from configurator.catalog.draft import Draft
from configurator.catalog.shelf import Shelf


def source_lines(draft: Draft) -> dict[tuple[str, str], str]:
    """Map each entry to its file and line.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.

    Returns
    -------
    dict
        (kind, id) → file:line, with the kinds vehicle, group, option (`group/option`), component,
        charging-source, driving-case, rule, limit, country-rule, survey-template, text, stage and
        record.
    """
    shelves: dict[str, Shelf[Any]] = {
        "vehicle": draft.vehicles,
        "group": draft.groups,
        "component": draft.components,
        "charging-source": draft.charging_sources,
        "driving-case": draft.driving_cases,
        "rule": draft.rules,
        "limit": draft.limits,
        "country-rule": draft.country_rules,
        "survey-template": draft.survey_templates,
        "text": draft.texts,
        "stage": draft.stages,
        "record": draft.as_built,
    }
    lines = {
        (kind, str(getattr(entry.value, "id", ""))): entry.where("id")
        for kind, shelf in shelves.items()
        for entry in shelf
    }
    return {**lines, **dict(_option_lines(draft))}


def _option_lines(draft: Draft) -> Iterator[tuple[tuple[str, str], str]]:
    for entry in draft.groups:
        for number, option in enumerate(entry.value.options):
            key = ("option", f"{entry.value.id}/{option.id}")
            yield key, entry.where("options", number, "id")
