"""A catalog folder to one frozen object, or every fault of every file at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from configurator.catalog.cross_checks.all_checks import cross_check_faults
from configurator.catalog.draft import Draft, read_draft
from configurator.catalog.fingerprint import catalog_sha256
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.source_lines import source_lines
from configurator.errors import CatalogError, Fault


@dataclass(frozen=True)
class LoadedCatalog:
    """A catalog with the place in the files of each of its entries."""

    catalog: Catalog
    line_of: Mapping[tuple[str, str], str]
    """(kind, id) → file:line; an option's id is `group/option`."""


def load_catalog(folder: Path) -> Catalog:
    """Read a catalog folder.

    Parameters
    ----------
    folder : Path
        The catalog.

    Returns
    -------
    Catalog
        Everything in it, with the bundled driving cycles.

    Raises
    ------
    CatalogError
        With every fault of every file.
    """
    return load_with_lines(folder).catalog


def load_with_lines(folder: Path) -> LoadedCatalog:
    """Read a catalog folder and keep where each entry stands.

    Parameters
    ----------
    folder : Path
        The catalog.

    Returns
    -------
    LoadedCatalog
        The catalog and file:line of each entry.

    Raises
    ------
    CatalogError
        With every fault of every file.
    """
    draft = read_draft(folder)
    faults = _faults(draft)
    if faults:
        raise CatalogError(faults)
    return LoadedCatalog(_catalog(draft), source_lines(draft))


def catalog_files(folder: Path) -> dict[str, bytes]:
    """Read the files whose hash is the catalog's: path inside the folder → content.

    Raises
    ------
    CatalogError
        With every fault of every file.
    """
    draft = read_draft(folder)
    if faults := _faults(draft):
        raise CatalogError(faults)
    return {file.file: file.content for file in draft.files}


def faults_of_catalog(folder: Path) -> tuple[Fault, ...]:
    """Find every fault of a catalog folder.

    Parameters
    ----------
    folder : Path
        The catalog.

    Returns
    -------
    tuple of Fault
        Sorted by file and line; empty when the catalog can be used.
    """
    return _faults(read_draft(folder))


def _faults(draft: Draft) -> tuple[Fault, ...]:
    faults = {*draft.faults, *cross_check_faults(draft)}
    return tuple(sorted(faults, key=_in_reading_order))


def _in_reading_order(fault: Fault) -> tuple[str, int, str, str]:
    file, _, line = fault.where.partition(":")
    return file, int(line) if line.isdecimal() else 0, fault.code, fault.what


def _catalog(draft: Draft) -> Catalog:
    talk = [part.id for part in draft.workshop.values[0].talk]
    groups = sorted(
        draft.groups.values, key=lambda group: (talk.index(group.part), group.order, group.id)
    )
    return Catalog(
        workshop=draft.workshop.values[0],
        stages=draft.stages.values,
        vehicles=draft.vehicles.values,
        groups=tuple(groups),
        components=draft.components.values,
        charging_sources=draft.charging_sources.values,
        driving_cases=draft.driving_cases.values,
        cycles=draft.cycles,
        rules=draft.rules.values,
        limits=draft.limits.values,
        survey_templates=draft.survey_templates.values,
        country_rules=draft.country_rules.values,
        texts=tuple(
            sorted(draft.texts.values, key=lambda text: (text.section, text.order, text.id))
        ),
        as_built=draft.as_built.values,
        sha256=catalog_sha256({file.file: file.content for file in draft.files}),
    )
