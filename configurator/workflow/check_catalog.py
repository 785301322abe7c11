"""Check a catalog: its files, what reads oddly in it, and what no build can have."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.catalog.load import load_with_lines
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.remarks import remarks_on_catalog
from configurator.errors import CatalogError, Fault
from configurator.workflow.catalog_proofs import prove


@dataclass(frozen=True)
class CheckReport:
    """What a check found."""

    faults: tuple[Fault, ...]
    """Each keeps the catalog from being used."""
    warnings: tuple[Fault, ...]
    """Each is worth a look."""
    counts: Mapping[str, int]
    """How many of each kind of entry were read; empty when there are faults in the files."""


def check_catalog(folder: Path) -> CheckReport:
    """Check a catalog folder.

    Parameters
    ----------
    folder : Path
        The catalog.

    Returns
    -------
    CheckReport
        Never raises for what is in the folder.
    """
    try:
        loaded = load_with_lines(folder)
    except CatalogError as error:
        return CheckReport(error.faults, (), {})
    proofs = prove(loaded.catalog, loaded.line_of, Engines())
    warnings = (*remarks_on_catalog(loaded.catalog, loaded.line_of), *proofs.warnings)
    return CheckReport(proofs.faults, warnings, _counts(loaded.catalog))


def _counts(catalog: Catalog) -> dict[str, int]:
    return {
        "vehicles": len(catalog.vehicles),
        "option groups": len(catalog.groups),
        "options": sum(len(group.options) for group in catalog.groups),
        "components": len(catalog.components),
        "rules": len(catalog.rules),
        "limits": len(catalog.limits),
        "texts": len(catalog.texts),
        "country rules": len(catalog.country_rules),
    }
