"""Everything that is proved about a catalog, vehicle by vehicle."""

from __future__ import annotations

from collections.abc import Callable

from configurator.build_spec.engines import Engines
from configurator.catalog.models.catalog import Catalog
from configurator.errors import CatalogError
from configurator.rules.rulebook import SIDE_BY_SIDE
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle, audited_vehicle
from configurator.workflow.catalog_proofs.findings import Found, Lines
from configurator.workflow.catalog_proofs.option_findings import no_build, option_findings
from configurator.workflow.catalog_proofs.rule_findings import limit_findings, rule_findings
from configurator.workflow.catalog_proofs.text_findings import text_findings


def _say_nothing(_step: str) -> None:
    """Tell nobody."""


def catalog_findings(
    catalog: Catalog,
    lines: Lines,
    engines: Engines,
    at_most: int = SIDE_BY_SIDE,
    progress: Callable[[str], None] = _say_nothing,
) -> tuple[Found, ...]:
    """Ask the engine about every vehicle of a catalog.

    Parameters
    ----------
    catalog : Catalog
        Without faults in its files.
    lines : mapping
        Where its entries stand.
    engines : Engines
        Compiled builds.
    at_most : int
        How many rules and limits a reason for no build may have before any minimal one will do.
    progress : callable
        Told what is looked at next.

    Returns
    -------
    tuple of Found
        A rule, limit or text is told only if it is of no use on every vehicle it is for; while one
        of those vehicles has no build, nothing is said about it.
    """
    found: list[Found] = []
    audited: list[AuditedVehicle] = []
    for vehicle in catalog.vehicles:
        progress(f"Checking the builds of {vehicle.label} …")
        try:
            each = audited_vehicle(catalog, vehicle, engines)
        except CatalogError as error:
            told = [each.fault for each in found]
            found += [Found("fault", fault) for fault in error.faults if fault not in told]
            continue
        if each.compiled.engine.is_possible({}):
            audited.append(each)
            found += option_findings(each, lines, at_most)
        elif (empty := no_build(each, lines, at_most)) is not None:
            found.append(empty)
    if len(audited) == len(catalog.vehicles):
        progress("Checking that every rule, limit and text has a use …")
        for findings in (rule_findings, limit_findings, text_findings):
            found += findings(catalog, audited, lines)
    return tuple(found)
