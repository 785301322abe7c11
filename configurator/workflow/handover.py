"""The handover gate: what is missing, the final pack with its revisions, and the handing over."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from configurator.build_life.entries import (
    Body,
    Erased,
    HandedOver,
    PackIssued,
    StageReached,
)
from configurator.build_life.gate import (
    Missing,
    missing_for_handover,
    out_of_tolerance,
    unanswered_warnings,
)
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.days import day_in_words
from configurator.build_spec.spec import Finding, Spec
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.errors import ErasedMeanwhileError, Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.record.kept_out import erased_meanwhile
from configurator.workflow.as_built import how_built_stands, judged_by, spec_as_measured
from configurator.workflow.builds import read_draft
from configurator.workflow.draft_differs import draft_differs
from configurator.workflow.issued_catalogs import kept_catalog
from configurator.workflow.issuing import kept_spec
from configurator.workflow.overtaken import unless_overtaken
from configurator.workflow.pack_issues import pack_issue_of
from configurator.workflow.papers import store_file, taken_back_if_erased
from configurator.workflow.premises import Premises
from configurator.workflow.rights import refuse_other_roles
from configurator.workflow.sign_offs_asked import sign_offs_asked

ISSUED_PACK = "issued-pack"


@dataclass(frozen=True)
class Gate:
    """What stands between a build and its handover."""

    life: Life
    spec: Spec | None
    """The issued spec with what was measured; None while nothing is issued."""
    verdicts: tuple[RecordVerdict, ...]
    """How each record stands that the vehicle needs."""
    missing: tuple[Missing, ...]

    @property
    def to_be_answered(self) -> tuple[Finding, ...]:
        """What warns and waits for a reason; nothing while a record is out of tolerance."""
        if self.spec is None or out_of_tolerance(self.verdicts):
            return ()
        return unanswered_warnings(self.life, self.spec)

    @property
    def found_by_checks(self) -> tuple[Finding, ...]:
        """What blocks the vehicle as measured, or warns of it and nobody has written why."""
        if self.spec is None:
            return ()
        blocks = (finding for finding in self.spec.findings if finding.severity == "blocks")
        return (*blocks, *unanswered_warnings(self.life, self.spec))

    @property
    def pack_is_current(self) -> bool:
        """Whether the last issued pack is of the vehicle as it is on record now."""
        pack = self.life.pack
        return pack is not None and self.spec is not None and pack.spec_sha256 == self.spec.sha256()

    @property
    def can_be_issued(self) -> bool:
        """Whether a revision can be issued that tells more than the last one."""
        is_new = not self.pack_is_current or bool(self.life.corrections)
        return self.spec is not None and not self.missing and is_new


def gate_of(premises: Premises, reference: str) -> Gate:
    """Tell what is missing before the final pack can be made, and who can close it.

    Raises
    ------
    RecordError
        If there is no such build, or what was kept is lost.
    """
    life = read_life(premises.record, reference)
    state = None if life.issued is None else how_built_stands(premises, reference)
    spec = None if state is None else spec_as_measured(premises, state)
    is_gone = life.handed_over is not None
    missing = missing_for_handover(
        life,
        spec,
        records=() if state is None else state.verdicts,
        stages=premises.catalog.stages,
        # Neither is asked of a vehicle with its owner.
        sign_offs=() if is_gone else sign_offs_asked(premises, life),
        draft_differs=not is_gone
        and draft_differs(premises, life, reference, read_draft(premises, reference).revision),
    )
    return Gate(life, spec, () if state is None else state.verdicts, missing)


def issue_pack(premises: Premises, reference: str, *, by: Person, now: datetime) -> PackIssued:
    """Issue the final handover pack; a later one is the next revision, and none is overwritten.

    Whoever issues it states that the vehicle was built as the issued spec says. After the handover
    a revision tells the owner what was corrected.

    Parameters
    ----------
    premises, reference
        Where the build is.
    by : Person
        A manager.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        With everything that is missing, each with who can close it; or if nothing changed since
        the last revision.
    DocumentError
        If the pack cannot be made or stored.
    OvertakenError
        If somebody else issued it a moment before.
    ErasedMeanwhileError
        If the customer was erased while it was made; its file is gone again.
    """
    refuse_other_roles(by, ("manager",), "issue the handover pack")
    gate = gate_of(premises, reference)
    spec, issued = gate.spec, gate.life.issued
    if gate.missing or spec is None or issued is None:
        raise LifeError(_fault(missing) for missing in gate.missing)
    last = gate.life.pack
    if last is not None and not gate.can_be_issued:
        what = f"nothing differs from revision {last.revision}"
        raise LifeError([Fault("P101", reference, what, "Correct what is wrong first.")])
    issue = pack_issue_of(premises, gate.life, spec, gate.verdicts, by=by, today=now.date())
    pdf = handover_pack_pdf(spec, issue)
    name = f"{reference}-handover-pack-revision-{issue.revision}"
    # The file stands before the entry that points to it.
    paper = store_file(premises, spec, ISSUED_PACK, pdf, now=now, stem=name)
    body = PackIssued(
        revision=issue.revision,
        letter=issued.letter,
        spec_sha256=spec.sha256(),
        document_sha256=paper.sha256,
        document_name=paper.name,
        catalog_sha256=judged_by(premises, gate.life),
        changes=issue.changes,
    )

    bodies, keep = _unless_overtaken(gate.life, reference, (body,)), [kept_spec(spec)]
    if body.catalog_sha256 == premises.catalog.sha256:
        keep.append(kept_catalog(premises))
    with taken_back_if_erased(premises, reference, paper):
        write_entries(
            premises.record, reference, bodies, by=by, now=now, keep=keep, documents=[paper]
        )
    return body


def hand_over(
    premises: Premises, reference: str, *, handed_over_on: date, by: Person, now: datetime
) -> Entry:
    """Note that the vehicle went to its owner, with the last issued pack.

    Raises
    ------
    LifeError
        If no pack is issued, something came in its way since, it was handed over already, or the
        day is still to come.
    OvertakenError
        If somebody else noted it a moment before.
    """
    refuse_other_roles(by, ("manager",), "hand a vehicle over")
    gate = gate_of(premises, reference)
    pack = gate.life.pack
    faults = [_fault(missing) for missing in gate.missing]
    if pack is None:
        what = "no handover pack is issued"
        faults.append(Fault("P103", reference, what, "Issue the final pack first."))
    elif not gate.pack_is_current:
        what = f"revision {pack.revision} of the pack is not of the vehicle as it is now"
        faults.append(Fault("P104", reference, what, "Issue the next revision first."))
    handed_over = gate.life.handed_over
    if handed_over is not None:
        what = f"it was handed over on {day_in_words(handed_over.handed_over_on)} already"
        remedy = "Tell a correction by the next revision of the pack."
        faults.append(Fault("P108", reference, what, remedy))
    if pack is not None and handed_over_on < (issued_on := gate.life.entry_of(pack).made_at.date()):
        what = (
            f"the day, {day_in_words(handed_over_on)}, is before revision {pack.revision} of the "
            f"pack was issued, {day_in_words(issued_on)}"
        )
        faults.append(Fault("P114", reference, what, "Note the day on which the owner had it."))
    if handed_over_on > now.date():
        what = f"the day, {day_in_words(handed_over_on)}, is still to come"
        faults.append(Fault("P105", reference, what, "Note it on the day itself."))
    if faults or pack is None:
        raise LifeError(faults)
    last = premises.catalog.stages[-1]
    reached = {body.stage_id for body in gate.life.of(StageReached)}
    done: list[Body] = [HandedOver(pack_revision=pack.revision, handed_over_on=handed_over_on)]
    if last.id not in reached:
        done.append(StageReached(stage_id=last.id, reached_on=handed_over_on, letter=pack.letter))
    bodies = _unless_overtaken(gate.life, reference, done)
    return write_entries(premises.record, reference, bodies, by=by, now=now)[0]


def _unless_overtaken(
    seen: Life, reference: str, bodies: Sequence[Body]
) -> Callable[[Life], Sequence[Body]]:
    """Write only while the book says what the gate was judged by."""

    def unless(there: Life) -> Sequence[Body]:
        if len(there.of(Erased)) > len(seen.of(Erased)):
            raise ErasedMeanwhileError([erased_meanwhile(reference)])
        return unless_overtaken(seen, reference, *bodies)(there)

    return unless


def _fault(missing: Missing) -> Fault:
    role = missing.role.replace("-", " ")
    return Fault("P106", missing.what, missing.why, f"This can be closed by: {role}.")
