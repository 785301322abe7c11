"""Texts that the rules and limits keep everybody from receiving."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.build_spec.extremes import NOTHING
from configurator.catalog.models.catalog import Catalog
from configurator.errors import Fault
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle
from configurator.workflow.catalog_proofs.claim_questions import is_meant, text_within
from configurator.workflow.catalog_proofs.findings import Found, Lines, by_vehicle, place
from configurator.workflow.catalog_proofs.proving import proved_claim


def text_findings(
    catalog: Catalog, audited: Sequence[AuditedVehicle], lines: Lines
) -> Iterator[Found]:
    """Yield texts that no complete build receives though some vehicle is offered what they ask.

    Parameters
    ----------
    catalog : Catalog
        The catalog.
    audited : sequence of AuditedVehicle
        Its vehicles that have builds.
    lines : mapping
        Where its entries stand.
    """
    for text in catalog.texts:
        meant = [each for each in audited if is_meant(each, "unread-text", text.id)]
        if not meant or any(_is_received(each, text.id) for each in meant):
            continue
        claims = tuple(proved_claim(each, "unread-text", text.id) for each in meant)
        fault = Fault(
            "P027",
            place(lines, "text", text.id),
            f'no complete build receives the text "{text.id}", '
            f"{by_vehicle(lines, meant, claims, 'whatever is chosen')}",
            "Correct applies_if, loosen a rule or limit, or take the text out.",
        )
        yield Found("warning", fault, claims)


def _is_received(audited: AuditedVehicle, text_id: str) -> bool:
    within = text_within(audited, text_id)
    return audited.compiled.engine.extreme(NOTHING, {}, within) is not None
