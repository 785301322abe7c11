"""All entries of one kind, read from the files where they stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Generic, TypeVar

from pydantic import TypeAdapter

from configurator.catalog.document import Document, shown
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models_from_yaml import Entry, entry_from_raw
from configurator.errors import Fault

Model_co = TypeVar("Model_co", covariant=True)


@dataclass(frozen=True)
class Shelf(Generic[Model_co]):
    """The entries of one kind that are whole, and all raw ones, to know the names of the broken."""

    entries: tuple[Entry[Model_co], ...]
    raw: tuple[RawEntry, ...]
    is_certain: bool
    """Whether the names of all entries are known; not so when a file could not be read."""
    faults: tuple[Fault, ...]

    @cached_property
    def ids(self) -> frozenset[str]:
        """Ids of all entries, broken ones too."""
        return frozenset(text_at(raw.value, "id") or "" for raw in self.raw)

    @property
    def is_whole(self) -> bool:
        """Whether every entry could be read."""
        return self.is_certain and len(self.entries) == len(self.raw)

    @property
    def values(self) -> tuple[Model_co, ...]:
        """The models that are whole."""
        return tuple(entry.value for entry in self.entries)

    def __iter__(self) -> Iterator[Entry[Model_co]]:
        """Go through the entries that are whole."""
        return iter(self.entries)


def fill_shelf(documents: Sequence[Document], list_key: str | None, annotation: Any) -> Shelf[Any]:
    """Make the models of one kind from its files.

    Parameters
    ----------
    documents : sequence of Document
        The files of the kind as they were read.
    list_key : str or None
        The key of the list that a file holds, or None where a file is one entry.
    annotation : type
        The model.

    Returns
    -------
    Shelf
        With every fault of every entry.
    """
    adapter: TypeAdapter[Any] = TypeAdapter(annotation)
    raw, faults = _raw_entries(documents, list_key)
    is_certain = (
        bool(documents)
        and not faults
        and all(
            isinstance(document.value, Mapping) and _has_no_lost_keys(document)
            for document in documents
        )
    )
    entries = []
    for raw_entry in raw:
        entry, entry_faults = entry_from_raw(raw_entry, annotation, adapter)
        faults.extend(entry_faults)
        if entry is not None:
            entries.append(entry)
        is_certain = is_certain and text_at(raw_entry.value, "id") is not None
    return Shelf(tuple(entries), tuple(raw), is_certain, tuple(faults))


def _has_no_lost_keys(document: Document) -> bool:
    return not any(fault.code in {"C009", "C010"} for fault in document.faults)


def text_at(raw: object, *keys: str) -> str | None:
    """Find a text in what was read, broken or not.

    Examples
    --------
    >>> text_at({"id": "roof"}, "id"), text_at({"id": 7}, "id"), text_at([], "id")
    ('roof', None, None)
    """
    for key in keys:
        raw = raw.get(key) if isinstance(raw, Mapping) else None
    return raw if isinstance(raw, str) else None


def list_at(raw: object, *keys: str) -> list[object]:
    """Find a list in what was read, broken or not; empty where there is none.

    Examples
    --------
    >>> list_at({"wishes": ["a"]}, "wishes"), list_at({"wishes": 7}, "wishes"), list_at([], "id")
    (['a'], [], [])
    """
    for key in keys:
        raw = raw.get(key) if isinstance(raw, Mapping) else None
    return raw if isinstance(raw, list) else []


def _raw_entries(
    documents: Sequence[Document], list_key: str | None
) -> tuple[list[RawEntry], list[Fault]]:
    raw: list[RawEntry] = []
    faults: list[Fault] = []
    for document in documents:
        if document.value is None and document.faults:
            continue
        if not isinstance(document.value, Mapping):
            wanted = f'"{list_key}:" and below it a list' if list_key else "key: value lines"
            what = f"the file holds {shown(document.value)}; it must be a mapping"
            faults.append(Fault("C013", document.where(()), what, f"Begin it with {wanted}."))
        elif list_key is None:
            raw.append(RawEntry(document, (), document.value))
        else:
            found, wrong = _listed(document, document.value, list_key)
            raw.extend(found)
            faults.extend(wrong)
    return raw, faults


def _listed(
    document: Document, mapping: Mapping[str, object], list_key: str
) -> tuple[list[RawEntry], list[Fault]]:
    faults = [
        Fault(
            "C020",
            document.where((key,)),
            f'"{key}" is a key that nobody knows here; the file holds "{list_key}" alone',
            f'Did you mean "{list_key}"?' if list_key not in mapping else "Take it out.",
        )
        for key in mapping
        if key != list_key
    ]
    if list_key not in mapping:
        what = f'"{list_key}" is missing; the file holds a list under that key'
        return [], [*faults, Fault("C021", document.where(()), what, f'Write "{list_key}:" first.')]
    listed = mapping[list_key]
    if not isinstance(listed, list):
        what = f'"{list_key}" is {shown(listed)}; it must be a list'
        remedy = "Begin each entry with a hyphen."
        return [], [*faults, Fault("C013", document.where((list_key,)), what, remedy)]
    return [
        RawEntry(document, (list_key, number), value) for number, value in enumerate(listed)
    ], faults
