"""What is found about a catalog, with the claims that prove it and the words to say it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from configurator.build_spec.sentences import listed
from configurator.errors import Fault
from configurator.rules.rulebook import Member
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle
from configurator.workflow.catalog_proofs.claims import Claim
from configurator.workflow.catalog_proofs.proving import reason_of

Lines: TypeAlias = Mapping[tuple[str, str], str]
"""(kind, id) → file:line."""


@dataclass(frozen=True)
class Found:
    """One finding: a fault keeps the catalog from being used, a note may well be meant so."""

    weight: Literal["fault", "warning", "note"]
    fault: Fault
    claims: tuple[Claim, ...] = ()


def place(lines: Lines, kind: str, name: str) -> str:
    """Say where an entry stands."""
    return lines.get((kind, name), name)


def named(lines: Lines, members: Iterable[Member]) -> str:
    """Name rules and limits with their places.

    Examples
    --------
    >>> named({("rule", "dry"): "rules/a.yaml:3"}, [("rule", "dry")])
    'rule "dry" (rules/a.yaml:3)'
    """
    return listed([f'{kind} "{name}" ({place(lines, kind, name)})' for kind, name in members])


def by_vehicle(
    lines: Lines, audited: Sequence[AuditedVehicle], claims: Sequence[Claim], alone: str
) -> str:
    """Say on which vehicles claims rest on what.

    Parameters
    ----------
    lines : mapping
        Where entries stand.
    audited, claims
        Vehicles, and the claim about each.
    alone : str
        What to say where a claim rests on no rule and no limit.
    """
    vehicles: dict[tuple[Member, ...], list[str]] = {}
    for each, claim in zip(audited, claims, strict=True):
        vehicles.setdefault(reason_of(claim), []).append(each.vehicle.label)
    return "; ".join(
        f"on {listed(labels)} {f'because of {named(lines, reason)}' if reason else alone}"
        for reason, labels in vehicles.items()
    )
