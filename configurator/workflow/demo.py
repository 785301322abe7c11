"""Fill a record with the catalog's demonstration builds and make their documents."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from configurator.catalog.build_file import load_build
from configurator.catalog.demo_life import load_demo_life
from configurator.catalog.models.build import BuildInput
from configurator.errors import BuildFileError, Fault
from configurator.record.new_builds import add_build_once
from configurator.workflow.builds import read_draft
from configurator.workflow.demo_lives import live
from configurator.workflow.papers import (
    list_documents,
    make_handover_pack,
    make_spec_sheet,
    spec_of_draft,
)
from configurator.workflow.premises import Premises
from configurator.workflow.stored_document import StoredDocument

DEMO_FOLDER = "demo_builds"
LIVES = "lives"
"""Folder inside it; a file of the same name says what has happened to the build."""


@dataclass(frozen=True)
class DemoBuild:
    """A demonstration build as it went into the record."""

    file: str
    reference: str
    was_there: bool
    """It was in the record already, and was left as it is."""
    documents: tuple[StoredDocument, ...]


def fill_demo(
    premises: Premises,
    now: datetime,
    progress: Callable[[DemoBuild], None] = lambda _build: None,
) -> tuple[DemoBuild, ...]:
    """Put every demonstration build in the record, once, and make its documents.

    Parameters
    ----------
    premises : Premises
        Whose catalog folder has `demo_builds/*.yaml`.
    now : datetime
        Aware, UTC.
    progress : callable
        Told of each build when it is done.

    Returns
    -------
    tuple of DemoBuild
        In the order of their files. A build that was filled in before is never written over.

    Raises
    ------
    BuildFileError
        With every fault of every file, before anything is put in the record.
    RecordError, DocumentError
        If something cannot be saved.
    """
    filled = []
    for path, build in _read_all(premises):
        done = _fill_one(premises, path, build, now)
        progress(done)
        filled.append(done)
    return tuple(filled)


def _read_all(premises: Premises) -> list[tuple[Path, BuildInput]]:
    paths = sorted((premises.catalog_folder / DEMO_FOLDER).glob("*.yaml"))
    if not paths:
        raise BuildFileError([_none(premises.catalog_folder / DEMO_FOLDER)])
    builds: list[tuple[Path, BuildInput]] = []
    faults: list[Fault] = []
    for path in paths:
        try:
            builds.append((path, load_build(path, premises.catalog)))
        except BuildFileError as error:
            faults.extend(error.faults)
    if faults:
        raise BuildFileError(faults)
    return builds


def _fill_one(premises: Premises, path: Path, build: BuildInput, now: datetime) -> DemoBuild:
    origin = f"{DEMO_FOLDER}/{path.name}"
    lived = path.parent / LIVES / path.name
    life = load_demo_life(lived) if lived.is_file() else None
    began = now if life is None else now - timedelta(days=life.quoted_days_ago)
    reference, is_new = add_build_once(premises.record, build, origin=origin, now=began)
    documents = list_documents(premises, reference)
    if is_new or (not documents and read_draft(premises, reference).revision == 1):
        documents = _make_documents(premises, reference, began)
        if life is not None:
            live(premises, reference, life, now)
            since = [d for d in list_documents(premises, reference) if d not in documents]
            documents = (*documents, *reversed(since))
    return DemoBuild(path.name, reference, not is_new, documents)


def _make_documents(
    premises: Premises, reference: str, now: datetime
) -> tuple[StoredDocument, ...]:
    sheet = make_spec_sheet(premises, reference, now)
    if not spec_of_draft(premises, reference).is_complete:
        return (sheet,)
    return sheet, make_handover_pack(premises, reference, now)


def _none(folder: Path) -> Fault:
    return Fault(
        "P011",
        str(folder),
        "there are no demonstration builds in this catalog",
        "Put build files there, or start an enquiry on the screens instead.",
    )
