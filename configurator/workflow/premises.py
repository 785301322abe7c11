"""The one place that wires the real parts together."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from configurator.build_life.waiting import Waiting
from configurator.build_spec.content_cache import ContentCache
from configurator.build_spec.engines import Engines
from configurator.build_spec.spec import Spec
from configurator.build_spec.standing import GroupState
from configurator.build_spec.wish_answer import WishAnswer, WishFront
from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.workshop import SignOff
from configurator.errors import Fault, RecordError
from configurator.record.addresses import holds_record
from configurator.record.database import Record, open_record
from configurator.rules.counting import Count
from configurator.workflow.listed_build import ListedBuild
from configurator.workflow.lives_so_far import LivesSoFar


@dataclass(frozen=True)
class Premises:
    """What every step of the work needs; one for a process, shared between threads."""

    catalog: Catalog
    record: Record
    data_folder: Path
    engines: Engines
    catalog_folder: Path
    standings: ContentCache[tuple[GroupState, ...]] = field(
        default_factory=lambda: ContentCache(size=128)
    )
    outlines: ContentCache[Spec] = field(default_factory=lambda: ContentCache(size=128))
    open_counts: ContentCache[int] = field(default_factory=lambda: ContentCache(size=4096))
    build_counts: ContentCache[Count] = field(default_factory=lambda: ContentCache(size=1024))
    wish_answers: ContentCache[WishAnswer] = field(default_factory=lambda: ContentCache(size=64))
    wish_fronts: ContentCache[WishFront] = field(default_factory=lambda: ContentCache(size=64))
    build_rows: ContentCache[ListedBuild] = field(default_factory=lambda: ContentCache(size=20_000))
    builds_waiting: ContentCache[tuple[Waiting, ...]] = field(
        default_factory=lambda: ContentCache(size=20_000)
    )
    drafts_that_differ: ContentCache[bool] = field(
        default_factory=lambda: ContentCache(size=20_000)
    )
    lives: LivesSoFar = field(default_factory=LivesSoFar)
    issued_catalogs: ContentCache[Catalog] = field(default_factory=lambda: ContentCache(size=8))
    issued_sign_offs: ContentCache[tuple[SignOff, ...]] = field(
        default_factory=lambda: ContentCache(size=4096)
    )
    """By the hash of a catalog: the page of builds asks for those of every build at once."""


def open_premises(
    catalog_folder: Path, data_folder: Path, database_url: str | None = None
) -> Premises:
    """Read the catalog and open the record.

    Parameters
    ----------
    catalog_folder, data_folder : Path
        What the workshop edits; where the tool writes.
    database_url : str, optional
        Where the record is, if not in the data folder; documents are there in any case.

    Returns
    -------
    Premises
        Ready to work with.

    Raises
    ------
    CatalogError
        With every fault of the catalog.
    RecordError
        If the data folder cannot be written or holds something else.
    """
    catalog = load_catalog(catalog_folder)
    record = open_record(data_folder, database_url)
    return Premises(catalog, record, data_folder.resolve(), Engines(), catalog_folder.resolve())


def open_kept_record(data_folder: Path, database_url: str | None = None) -> Record:
    """Open a record that is there already; none is made.

    Raises
    ------
    RecordError
        If there is none, or it cannot be used.
    """
    if not holds_record(data_folder, database_url):
        what = "there is no record in this folder"
        remedy = "Name the folder of the record with --data, or its database with --database."
        raise RecordError([Fault("P043", str(data_folder), what, remedy)])
    return open_record(data_folder, database_url)
