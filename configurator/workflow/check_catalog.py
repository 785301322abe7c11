"""Check a catalog: its files, what reads oddly in it, and what no build can have."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.catalog.load import LoadedCatalog, load_with_lines
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.remarks import remarks_on_catalog
from configurator.errors import CatalogError, Fault
from configurator.rules.rulebook import SIDE_BY_SIDE
from configurator.workflow.catalog_proofs.catalog_findings import catalog_findings
from configurator.workflow.catalog_proofs.claims import ProofFile, ProvedFinding
from configurator.workflow.catalog_proofs.findings import Found


@dataclass(frozen=True)
class CheckReport:
    """What a check found."""

    faults: tuple[Fault, ...]
    """Each keeps the catalog from being used."""
    warnings: tuple[Fault, ...]
    """Each is worth a look."""
    counts: Mapping[str, int]
    """How many of each kind of entry were read; empty when there are faults in the files."""
    notes: tuple[Fault, ...] = ()
    """Each may well be meant so."""
    proofs: ProofFile | None = None
    """Of what was found by asking the engine; none when there are faults in the files."""


def check_catalog(
    folder: Path,
    today: date | None = None,
    at_most: int = SIDE_BY_SIDE,
    progress: Callable[[str], None] | None = None,
) -> CheckReport:
    """Check a catalog folder.

    Parameters
    ----------
    folder : Path
        The catalog.
    today : date, optional
        The day from which the age of prices is counted; without it no age is looked at.
    at_most : int
        How many rules and limits a reason for no build may have before any minimal one will do.
    progress : callable, optional
        Told what is looked at next.

    Returns
    -------
    CheckReport
        Never raises for what is in the folder.
    """
    try:
        loaded = load_with_lines(folder)
    except CatalogError as error:
        return CheckReport(error.faults, (), {})
    found = catalog_findings(
        loaded.catalog, loaded.line_of, Engines(), at_most, progress or _tell_nobody
    )
    faults = tuple(each.fault for each in found if each.weight == "fault")
    return CheckReport(
        faults,
        (
            *_remarks(loaded, today, found),
            *(each.fault for each in found if each.weight == "warning"),
        ),
        _counts(loaded.catalog),
        tuple(each.fault for each in found if each.weight == "note"),
        _proofs(loaded.catalog, found),
    )


def _tell_nobody(_step: str) -> None:
    """Take no notice."""


def _remarks(
    loaded: LoadedCatalog, today: date | None, found: tuple[Found, ...]
) -> tuple[Fault, ...]:
    """Leave out options that were found to be forbidden: the proof says the same and more."""
    proved = {each.fault.where for each in found if each.fault.code == "P021"}
    return tuple(
        remark
        for remark in remarks_on_catalog(loaded.catalog, loaded.line_of, today)
        if not (remark.code == "W010" and remark.where in proved)
    )


def _proofs(catalog: Catalog, found: tuple[Found, ...]) -> ProofFile:
    findings = tuple(
        ProvedFinding(
            code=each.fault.code,
            where=each.fault.where,
            says=f"{each.fault.what}.",
            claims=each.claims,
        )
        for each in found
        if each.claims
    )
    return ProofFile(catalog_sha256=catalog.sha256, findings=findings)


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
