"""Names that exist, and how to say that one does not."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown, spoken
from configurator.catalog.draft import Draft
from configurator.catalog.models.group import Group
from configurator.catalog.models_from_yaml import Entry
from configurator.catalog.shelf import Shelf, text_at
from configurator.errors import Fault


@dataclass(frozen=True)
class Known:
    """The names of one kind; all of them unless a file could not be read."""

    kind: str
    code: str
    names: frozenset[str]
    is_certain: bool

    def lacks(self, name: str) -> bool:
        """Tell whether a name surely does not exist."""
        return self.is_certain and name not in self.names


@dataclass(frozen=True)
class Place:
    """Where in an entry a name stands."""

    entry: Entry[object]
    keys: tuple[str | int, ...]

    def at(self, *keys: str | int) -> Place:
        """Step further in."""
        return Place(self.entry, (*self.keys, *keys))

    @property
    def where(self) -> str:
        """File and line."""
        return self.entry.where(*self.keys)

    @property
    def title(self) -> str:
        """The entry's id and the way in it."""
        identifier = getattr(self.entry.value, "id", None)
        return spoken(self.keys) + (f' of "{identifier}"' if identifier else "")


def place(entry: Entry[object], *keys: str | int) -> Place:
    """Say where in an entry something stands."""
    return Place(entry, keys)


def named(at: Place, name: str | None, known: Known) -> Iterator[Fault]:
    """Yield a fault if a name does not exist.

    Parameters
    ----------
    at : Place
        Where it is named.
    name : str or None
        The name; None names nothing.
    known : Known
        The names that exist.

    Yields
    ------
    Fault
        At most one.
    """
    if name is not None and known.lacks(name):
        what = f"{at.title} names {shown(name)}; there is no {known.kind} of that id"
        yield Fault(known.code, at.where, what, did_you_mean(name, known.names))


def all_named(at: Place, names: Collection[str] | None, known: Known) -> Iterator[Fault]:
    """Yield a fault for each name of a list that does not exist."""
    for number, name in enumerate(names or ()):
        yield from named(at.at(number), name, known)


def _of_shelf(kind: str, code: str, shelf: Shelf[object]) -> Known:
    return Known(kind, code, shelf.ids, shelf.is_certain)


def known_vehicles(draft: Draft) -> Known:
    """Ids of the vehicles."""
    return _of_shelf("vehicle", "C041", draft.vehicles)


def known_groups(draft: Draft) -> Known:
    """Ids of the groups."""
    return _of_shelf("group", "C042", draft.groups)


def known_components(draft: Draft) -> Known:
    """Ids of the components."""
    return _of_shelf("component", "C044", draft.components)


def known_stages(draft: Draft) -> Known:
    """Ids of the stages."""
    return _of_shelf("stage", "C045", draft.stages)


def known_cases(draft: Draft) -> Known:
    """Ids of the driving cases."""
    return _of_shelf("driving case", "C048", draft.driving_cases)


def known_sources(draft: Draft) -> Known:
    """Ids of the charging sources."""
    return _of_shelf("charging source", "C049", draft.charging_sources)


def known_survey_templates(draft: Draft) -> Known:
    """Ids of the survey templates."""
    return _of_shelf("survey template", "C050", draft.survey_templates)


def known_trades(draft: Draft) -> Known:
    """Ids of the trades."""
    return _listed_in_raw("trade", "C046", draft.workshop, "trades")


def known_talk_parts(draft: Draft) -> Known:
    """Ids of the parts of the talk."""
    return _listed_in_raw("part of the talk", "C051", draft.workshop, "talk")


def known_options(draft: Draft, group_id: str) -> Known:
    """Ids of the options of one group."""
    of_group = [raw for raw in draft.groups.raw if text_at(raw.value, "id") == group_id]
    shelf: Shelf[Group] = Shelf((), tuple(of_group), draft.groups.is_certain, ())
    return _listed_in_raw(f'option of "{group_id}"', "C043", shelf, "options")


def known_places(draft: Draft, vehicle_id: str) -> Known:
    """Ids of the places of one vehicle."""
    names: set[str] = set()
    is_certain = draft.vehicles.is_certain
    for raw in draft.vehicles.raw:
        if text_at(raw.value, "id") == vehicle_id:
            places = raw.value.get("places") if isinstance(raw.value, Mapping) else None
            is_certain = is_certain and isinstance(places, Mapping)
            names.update(places if isinstance(places, Mapping) else ())
    return Known(f'place of vehicle "{vehicle_id}"', "C047", frozenset(names), is_certain)


def _listed_in_raw(kind: str, code: str, shelf: Shelf[object], key: str) -> Known:
    """Names in a list inside entries; broken entries count, unreadable ones leave a doubt."""
    names: set[str] = set()
    is_certain = shelf.is_certain or bool(shelf.raw)
    for raw in shelf.raw:
        listed = raw.value.get(key) if isinstance(raw.value, Mapping) else None
        if not isinstance(listed, list):
            is_certain = False
            continue
        ids = [text_at(item, "id") for item in listed]
        is_certain = is_certain and None not in ids
        names.update(name for name in ids if name is not None)
    return Known(kind, code, frozenset(names), is_certain)
