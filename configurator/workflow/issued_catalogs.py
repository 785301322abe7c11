"""The catalogs that issued specs were computed with: kept whole, and read again."""

from __future__ import annotations

import hashlib
import tempfile
from pathlib import Path

from configurator.catalog.fingerprint import framed, unframed
from configurator.catalog.load import catalog_files, load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.errors import Fault, LifeError
from configurator.record.book import ToKeep
from configurator.record.contents import find_content
from configurator.workflow.premises import Premises


def kept_catalog(premises: Premises) -> ToKeep:
    """Give the files of the catalog at work, to be kept beside what is computed with it.

    Raises
    ------
    LifeError
        If the files were edited since the catalog was read: what they say now is not what the
        figures on the screen were computed with.
    CatalogError
        If they cannot be read any more.
    """
    content = framed(catalog_files(premises.catalog_folder))
    if hashlib.sha256(content).hexdigest() != premises.catalog.sha256:
        raise LifeError([_edited(premises.catalog_folder)])
    return ToKeep("catalog", content)


def catalog_of(premises: Premises, sha256: str) -> Catalog:
    """Find the catalog of a hash: the one at work, or the kept one.

    Raises
    ------
    RecordError
        If it is not kept in this record, or was altered.
    """
    if sha256 == premises.catalog.sha256:
        return premises.catalog
    return premises.issued_catalogs.get_or_make(sha256, lambda: _read(premises, sha256))


def _read(premises: Premises, sha256: str) -> Catalog:
    files = unframed(find_content(premises.record, sha256))
    with tempfile.TemporaryDirectory() as folder:
        for name, content in files.items():
            path = Path(folder) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        return load_catalog(Path(folder))


def _edited(folder: Path) -> Fault:
    return Fault(
        "P076",
        str(folder),
        "the catalog was edited since it was read; figures on the screen are of the one before",
        "Close the tool and open it again, look at the figures, then do this step again.",
    )
