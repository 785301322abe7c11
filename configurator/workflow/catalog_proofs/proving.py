"""Put a claim and its proof together."""

from __future__ import annotations

from configurator.rules.rulebook import Member, Options, Question
from configurator.rules.wanted_builds import any_build, reason_for_none
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle
from configurator.workflow.catalog_proofs.claim_questions import claimed, left_aside, witnessed
from configurator.workflow.catalog_proofs.claims import Asked, Claim, ClaimKind, Keeps


def proved_claim(
    audited: AuditedVehicle,
    kind: ClaimKind,
    about: str,
    reason: tuple[Member, ...] | None = None,
) -> Claim:
    """Make a claim that holds, with its proof.

    Parameters
    ----------
    audited : AuditedVehicle
        The vehicle.
    kind, about
        The claim.
    reason : tuple of Member, optional
        Rules and limits that prove it, where they are known already.

    Raises
    ------
    ValueError
        If the claim does not hold.
    """
    book = audited.book
    wanted, aside = claimed(audited, kind, about), left_aside(kind, about)
    if reason is None:
        others = tuple(member for member in book.binding() if member != aside)
        reason = reason_for_none(book, Question(others, wanted))
    shown = [
        asked(question, any_build(book, question))
        for question in witnessed(audited, kind, about, reason)
    ]
    denied = asked(Question(reason, wanted), None)
    return Claim(kind=kind, vehicle=audited.vehicle.id, about=about, proof=(denied, *shown))


def asked(question: Question, build: dict[str, str] | None) -> Asked:
    """Write a question with its answer as it stands in a file of proofs."""
    breaks = question.wanted.breaks
    return Asked(
        keeps=Keeps(
            rules=tuple(name for kind, name in question.keeps if kind == "rule"),
            limits=tuple(name for kind, name in question.keeps if kind == "limit"),
        ),
        within=_sorted(question.wanted.within),
        breaks_rule=breaks[1] if breaks is not None and breaks[0] == "rule" else None,
        breaks_limit=breaks[1] if breaks is not None and breaks[0] == "limit" else None,
        build=build,
    )


def reason_of(claim: Claim) -> tuple[Member, ...]:
    """Read the rules and limits that a claim is proved by."""
    keeps = claim.proof[0].keeps
    rules: list[Member] = [("rule", name) for name in keeps.rules]
    return (*rules, *(("limit", name) for name in keeps.limits))


def _sorted(within: Options) -> dict[str, tuple[str, ...]]:
    return {group: tuple(sorted(options)) for group, options in within.items()}
