"""An id is given once; two things of one name would be taken for each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from configurator.catalog.document import shown
from configurator.catalog.draft import Draft
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.shelf import list_at, text_at
from configurator.errors import Fault

_LISTS_INSIDE = (
    ("workshop", "trades"),
    ("workshop", "talk"),
    ("workshop", "roles"),
    ("workshop", "tariffs"),
    ("groups", "options"),
    ("vehicles", "base_lines"),
    ("survey_templates", "parts"),
    ("as_built", "values"),
)
_SHELVES = (
    "stages",
    "vehicles",
    "groups",
    "components",
    "charging_sources",
    "driving_cases",
    "rules",
    "limits",
    "survey_templates",
    "country_rules",
    "texts",
    "as_built",
)


def repeated_ids(draft: Draft) -> Iterator[Fault]:
    """Yield a fault for each id that is given again, broken entries counted.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.

    Yields
    ------
    Fault
        At the later of two places.
    """
    for shelf_name in _SHELVES:
        raw_entries: tuple[RawEntry, ...] = getattr(draft, shelf_name).raw
        yield from _repeated((text_at(raw.value, "id"), raw.where("id")) for raw in raw_entries)
    for shelf_name, key in _LISTS_INSIDE:
        for raw in getattr(draft, shelf_name).raw:
            yield from _repeated(_ids_inside(raw, key))


def _ids_inside(raw: RawEntry, key: str) -> Iterator[tuple[str | None, str]]:
    for number, item in enumerate(list_at(raw.value, key)):
        yield text_at(item, "id"), raw.where(key, number, "id")


def _repeated(ids: Iterable[tuple[str | None, str]]) -> Iterator[Fault]:
    first: dict[str, str] = {}
    for identifier, where in ids:
        if identifier is None:
            continue
        if identifier in first:
            what = f"the id {shown(identifier)} is given again; an id names one thing for good"
            remedy = f"Give this one another id; the first is at {first[identifier]}."
            yield Fault("C040", where, what, remedy)
        first.setdefault(identifier, where)
