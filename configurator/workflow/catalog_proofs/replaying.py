"""Prove each claim of a file again, by a method that shares nothing with the engine."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.errors import Fault
from configurator.rules.replay import build_for, is_answer
from configurator.rules.rulebook import Member, Question
from configurator.workflow.catalog_proofs.audited_vehicle import AuditedVehicle, audited_vehicle
from configurator.workflow.catalog_proofs.claim_questions import (
    claimed,
    is_meant,
    left_aside,
    witnessed,
)
from configurator.workflow.catalog_proofs.claims import Claim, ClaimKind, ProvedFinding
from configurator.workflow.catalog_proofs.proof_file import WRITE_AGAIN, ReadProofs, read_proofs
from configurator.workflow.catalog_proofs.proving import asked, reason_of

DO_NOT_TRUST = f"Do not trust it. {WRITE_AGAIN}"

CODES: Mapping[ClaimKind, tuple[str, ...]] = {
    "no-complete-build": ("P020",),
    "useless-option": ("P021",),
    "house-choices-clash": ("P022",),
    "idle-rule": ("P023", "P024"),
    "implied-rule": ("P024",),
    "settled-group": ("P025",),
    "unreachable-limit": ("P026",),
    "unread-text": ("P027",),
}
"""What each kind helps to prove; a rule that follows from others may be idle on some vehicle."""

OF_THE_WHOLE_CATALOG = ("idle-rule", "implied-rule", "unreachable-limit", "unread-text")


@dataclass(frozen=True)
class ReplayReport:
    """What became of the claims of a file."""

    held: int
    """Claims that hold."""
    faults: tuple[Fault, ...]
    """One for each thing that does not."""


def replay_proofs(
    catalog_folder: Path, path: Path, progress: Callable[[str], None]
) -> ReplayReport:
    """Prove the claims of a file again.

    Parameters
    ----------
    catalog_folder : Path
        The catalog of which they are made.
    path : Path
        The file that `check --proofs` wrote.
    progress : callable
        Told what is looked at next.

    Raises
    ------
    CatalogError
        If the catalog has faults.
    ConfiguratorError
        If the file has.
    """
    catalog, read = load_catalog(catalog_folder), read_proofs(path)
    if read.proofs.catalog_sha256 != catalog.sha256:
        what = (
            "these are proofs of another catalog, or the catalog was changed since; its hash is "
            f"{catalog.sha256[:8]} and not {read.proofs.catalog_sha256[:8]}"
        )
        remedy = f"Name the catalog they were written of. {WRITE_AGAIN}"
        where = read.entry.where("catalog_sha256")
        return ReplayReport(0, (Fault("P032", where, what, remedy),))
    replay = _Replay(catalog, Engines(), read)
    faults: list[Fault] = []
    held = 0
    for number, finding in enumerate(read.proofs.findings):
        progress(f"Proving {finding.code} at {finding.where} again …")
        faults += replay.faults_of_finding(number, finding)
        for at, claim in enumerate(finding.claims):
            told = list(replay.faults_of_claim(claim, read.entry.where(*_way(number, at))))
            held += not told
            faults += told
    return ReplayReport(held, tuple(faults))


def _way(finding: int, claim: int) -> tuple[str | int, ...]:
    return ("findings", finding, "claims", claim)


class _Replay:
    """One catalog, with each vehicle made ready when a claim first speaks of it."""

    def __init__(self, catalog: Catalog, engines: Engines, read: ReadProofs) -> None:
        self._catalog = catalog
        self._engines = engines
        self._read = read
        self._audited: dict[str, AuditedVehicle] = {}

    def faults_of_finding(self, number: int, finding: ProvedFinding) -> Iterator[Fault]:
        """Yield what is wrong with a finding as a whole: its claims are not those it needs."""
        where = self._read.entry.where("findings", number)
        if not finding.claims:
            yield _astray(where, "it makes no claim that could be proved again")
        for claim in finding.claims:
            if finding.code not in CODES[claim.kind]:
                what = f'a claim of kind "{claim.kind}" does not prove {finding.code}'
                yield _astray(where, what)
        first = finding.claims[0] if finding.claims else None
        if first is not None and first.kind in OF_THE_WHOLE_CATALOG:
            told = {claim.vehicle for claim in finding.claims if claim.about == first.about}
            for vehicle_id in self._catalog.vehicle_by_id:
                each = self._vehicle(vehicle_id)
                if vehicle_id not in told and is_meant(each, first.kind, first.about):
                    yield _astray(where, f'it proves nothing about vehicle "{vehicle_id}"')

    def faults_of_claim(self, claim: Claim, where: str) -> Iterator[Fault]:
        """Yield what is wrong with a claim; nothing when it holds."""
        if claim.vehicle not in self._catalog.vehicle_by_id:
            yield _unknown(where, f'vehicle "{claim.vehicle}"')
            return
        audited = self._vehicle(claim.vehicle)
        try:
            wanted = claimed(audited, claim.kind, claim.about)
        except KeyError:
            yield _unknown(where, f'"{claim.about}", of which "{claim.kind}" could be claimed')
            return
        if not claim.proof:
            yield _astray(where, "it has no question")
            return
        reason = reason_of(claim)
        unusable = list(_unusable(audited, claim, reason, where))
        if unusable:
            yield from unusable
            return
        shown = witnessed(audited, claim.kind, claim.about, reason)
        yield from _faults_of_questions(audited, claim, (Question(reason, wanted), *shown), where)

    def _vehicle(self, vehicle_id: str) -> AuditedVehicle:
        if vehicle_id not in self._audited:
            vehicle = self._catalog.vehicle_by_id[vehicle_id]
            self._audited[vehicle_id] = audited_vehicle(self._catalog, vehicle, self._engines)
        return self._audited[vehicle_id]


def _unusable(
    audited: AuditedVehicle, claim: Claim, reason: Sequence[Member], where: str
) -> Iterator[Fault]:
    """Yield the rules and limits that a proof may not rest on."""
    binding, aside = set(audited.book.binding()), left_aside(claim.kind, claim.about)
    for kind, name in reason:
        if (kind, name) == aside:
            yield _astray(where, f'it rests on {kind} "{name}", of which it speaks')
        elif kind == "limit" and name in audited.book.limits and (kind, name) not in binding:
            yield _astray(where, f'it rests on limit "{name}", which only warns')
        elif (kind, name) not in binding:
            yield _unknown(where, f'{kind} "{name}", on which it rests')


def _faults_of_questions(
    audited: AuditedVehicle, claim: Claim, questions: Sequence[Question], where: str
) -> Iterator[Fault]:
    needed = [asked(question, None) for question in questions]
    given = [each.model_copy(update={"build": None}) for each in claim.proof]
    if needed != given or claim.proof[0].build is not None:
        yield _astray(where, "its questions are not those that would prove it")
        return
    against = build_for(audited.book, questions[0])
    if against is not None:
        chosen = ", ".join(f"{group}: {option}" for group, option in against.items())
        what = (
            f'"{claim.kind}" of "{claim.about}" does not hold; this build is against it: {chosen}'
        )
        yield Fault("P035", where, what, DO_NOT_TRUST)
    for question, given_answer in zip(questions[1:], claim.proof[1:], strict=True):
        if given_answer.build is None or not is_answer(audited.book, question, given_answer.build):
            what = f'a build that should show "{claim.kind}" of "{claim.about}" does not'
            yield Fault("P035", where, what, DO_NOT_TRUST)


def _astray(where: str, what: str) -> Fault:
    return Fault("P034", where, f"the proof does not speak of what it claims: {what}", DO_NOT_TRUST)


def _unknown(where: str, what: str) -> Fault:
    return Fault("P033", where, f"the catalog has no {what} on this vehicle", WRITE_AGAIN)
