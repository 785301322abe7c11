"""A catalog as far as it could be read, before anybody checked that it fits together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from configurator.catalog.catalog_files import CatalogFile, list_catalog_files
from configurator.catalog.cycle_files import bundled_cycles
from configurator.catalog.document import Document
from configurator.catalog.file_text import FileText, read_file_text
from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.catalog import DrivingCycle
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import Component
from configurator.catalog.models.group import Group
from configurator.catalog.models.rule import CountryRule, Limit, Rule
from configurator.catalog.models.text import Text
from configurator.catalog.models.vehicle import Vehicle
from configurator.catalog.models.workshop import DrivingCase, Stage, SurveyTemplate, Workshop
from configurator.catalog.shelf import Shelf, fill_shelf
from configurator.catalog.text_files import read_text_file
from configurator.catalog.yaml_lines import read_yaml
from configurator.errors import Fault

_SHELVES: dict[str, tuple[str | None, Any]] = {
    "workshop": (None, Workshop),
    "stages": ("stages", Stage),
    "vehicles": (None, Vehicle),
    "groups": (None, Group),
    "components": ("components", Component),
    "charging_sources": ("charging_sources", ChargingSource),
    "driving_cases": ("driving_cases", DrivingCase),
    "rules": ("rules", Rule),
    "limits": ("limits", Limit),
    "survey_templates": (None, SurveyTemplate),
    "country_rules": ("country_rules", CountryRule),
    "texts": (None, Text),
    "as_built": ("records", RecordTemplate),
}
"""Kind → key of the list in a file (None: a file is one entry), model."""


@dataclass(frozen=True)
class Draft:
    """Every entry that is whole, with its place in the files, and the faults of the others."""

    workshop: Shelf[Workshop]
    stages: Shelf[Stage]
    vehicles: Shelf[Vehicle]
    groups: Shelf[Group]
    components: Shelf[Component]
    charging_sources: Shelf[ChargingSource]
    driving_cases: Shelf[DrivingCase]
    rules: Shelf[Rule]
    limits: Shelf[Limit]
    survey_templates: Shelf[SurveyTemplate]
    country_rules: Shelf[CountryRule]
    texts: Shelf[Text]
    as_built: Shelf[RecordTemplate]
    cycles: tuple[DrivingCycle, ...]
    files: tuple[FileText, ...]
    faults: tuple[Fault, ...]


def read_draft(folder: Path) -> Draft:
    """Read every file of a catalog folder; faults are gathered, never raised.

    Parameters
    ----------
    folder : Path
        The catalog.

    Returns
    -------
    Draft
        All that could be read, and every fault of reading.
    """
    listed, faults = list_catalog_files(folder)
    read = [(item, read_file_text(folder / item.file, item.file)) for item in listed]
    documents: dict[str, list[Document]] = {kind: [] for kind in _SHELVES}
    for item, file_text in read:
        documents[item.kind].append(_document(item, file_text))
    shelves = _filled(documents)
    for kind in _SHELVES:
        faults.extend(fault for document in documents[kind] for fault in document.faults)
        faults.extend(shelves[kind].faults)
    file_texts = tuple(file_text for _, file_text in read)
    return Draft(**shelves, cycles=bundled_cycles(), files=file_texts, faults=tuple(faults))


def _document(item: CatalogFile, file_text: FileText) -> Document:
    if file_text.fault is not None:
        return Document(item.file, None, {(): 1}, (file_text.fault,))
    reader = read_text_file if item.kind == "texts" else read_yaml
    return reader(file_text.text, item.file)


def _filled(documents: Mapping[str, Sequence[Document]]) -> dict[str, Shelf[Any]]:
    return {
        kind: fill_shelf(documents[kind], list_key, model)
        for kind, (list_key, model) in _SHELVES.items()
    }
