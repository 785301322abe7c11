"""Rules that change nothing, and limits that nothing reaches, on every vehicle they are for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import Limit, Rule
from configurator.errors import Fault
from configurator.rules.audit import (
    breach_of_limit,
    breach_of_rule,
    build_in_situation,
)
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle
from configurator.workflow.catalog_proofs.claim_questions import is_meant
from configurator.workflow.catalog_proofs.claims import ClaimKind
from configurator.workflow.catalog_proofs.findings import Found, Lines, by_vehicle, place
from configurator.workflow.catalog_proofs.proving import proved_claim


def rule_findings(
    catalog: Catalog, audited: Sequence[AuditedVehicle], lines: Lines
) -> Iterator[Found]:
    """Yield rules that forbid nothing which the other rules and limits do not forbid.

    Parameters
    ----------
    catalog : Catalog
        The catalog.
    audited : sequence of AuditedVehicle
        Its vehicles that have builds.
    lines : mapping
        Where its entries stand.
    """
    for rule in catalog.rules:
        found = _rule_finding(rule, audited, lines)
        if found is not None:
            yield found


def limit_findings(
    catalog: Catalog, audited: Sequence[AuditedVehicle], lines: Lines
) -> Iterator[Found]:
    """Yield limits that no build of the other rules and limits goes beyond, guards left out."""
    for limit in catalog.limits:
        if limit.stays_as_guard:
            continue
        meant = [each for each in audited if is_meant(each, "unreachable-limit", limit.id)]
        if meant and all(
            breach_of_limit(each.leaving_one_out, limit.id, each.book.limits[limit.id]) is None
            for each in meant
        ):
            yield _unreachable(limit, meant, lines)


def _rule_finding(rule: Rule, audited: Sequence[AuditedVehicle], lines: Lines) -> Found | None:
    speaking = [each for each in audited if is_meant(each, "idle-rule", rule.id)]
    kinds: list[ClaimKind] = []
    for each in speaking:
        kind = _why_it_changes_nothing(each, rule.id)
        if kind is None:
            return None
        kinds.append(kind)
    if not speaking:
        return None
    claims = [proved_claim(each, kind, rule.id) for each, kind in zip(speaking, kinds, strict=True)]
    reasons = by_vehicle(lines, speaking, claims, "whatever else holds")
    if "implied-rule" in kinds:
        fault = Fault(
            "P024",
            place(lines, "rule", rule.id),
            f'rule "{rule.id}" adds nothing: no build breaks it that keeps the other rules and '
            f"limits, {reasons}",
            "Take it out, or keep it for what it tells the customer.",
        )
        return Found("note", fault, tuple(claims))
    fault = Fault(
        "P023",
        place(lines, "rule", rule.id),
        f'rule "{rule.id}" never bites: what it asks under "when" never comes about, {reasons}',
        "Correct its conditions or take it out.",
    )
    return Found("warning", fault, tuple(claims))


def _why_it_changes_nothing(audited: AuditedVehicle, rule_id: str) -> ClaimKind | None:
    rule = audited.book.rules[rule_id]
    if build_in_situation(audited.leaving_one_out, rule) is None:
        return "idle-rule"
    return "implied-rule" if breach_of_rule(audited.leaving_one_out, rule) is None else None


def _unreachable(limit: Limit, meant: Sequence[AuditedVehicle], lines: Lines) -> Found:
    claims = [proved_claim(each, "unreachable-limit", limit.id) for each in meant]
    reasons = by_vehicle(lines, meant, claims, "whatever is chosen")
    says = "never warns" if limit.severity == "warns" else "forbids nothing"
    fault = Fault(
        "P026",
        place(lines, "limit", limit.id),
        f'limit "{limit.id}" {says}: no build goes beyond it, {reasons}',
        "Check the bound, or write 'stays_as_guard: true' if later options might go beyond it.",
    )
    return Found("note", fault, tuple(claims))
