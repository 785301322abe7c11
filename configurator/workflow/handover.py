"""The handover gate: what is missing, the final pack with its revisions, and the handing over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from configurator.build_life.differences import spec_differences
from configurator.build_life.entries import (
    AsBuiltRecorded,
    Body,
    HandedOver,
    PackIssued,
    StageReached,
)
from configurator.build_life.gate import Missing, missing_for_handover
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.handover_pack.pack_issue import EarlierIssue, PackIssue
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.as_built import how_built_stands, spec_as_measured
from configurator.workflow.builds import read_draft
from configurator.workflow.draft_differs import draft_differs
from configurator.workflow.issuing import kept_spec, read_spec
from configurator.workflow.papers import store_file
from configurator.workflow.premises import Premises
from configurator.workflow.sign_offs_asked import sign_offs_asked

ISSUED_PACK = "issued-pack"


@dataclass(frozen=True)
class Gate:
    """What stands between a build and its handover."""

    life: Life
    spec: Spec | None
    """The issued spec with what was measured; None while nothing is issued."""
    missing: tuple[Missing, ...]


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
    draft = read_draft(premises, reference)
    missing = missing_for_handover(
        life,
        spec,
        records=() if state is None else _records(state.verdicts),
        stages=premises.catalog.stages,
        sign_offs=sign_offs_asked(premises, life),
        draft_differs=draft_differs(premises, life, reference, draft.revision),
    )
    return Gate(life, spec, missing)


def issue_pack(premises: Premises, reference: str, *, by: Person, now: datetime) -> PackIssued:
    """Issue the final handover pack; a later one is the next revision, and none is overwritten.

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
    """
    _must_be_manager(by, reference)
    gate = gate_of(premises, reference)
    spec, issued = gate.spec, gate.life.issued
    if gate.missing or spec is None or issued is None:
        raise LifeError(_fault(missing) for missing in gate.missing)
    last = gate.life.pack
    if last is not None and last.spec_sha256 == spec.sha256():
        what = f"nothing differs from revision {last.revision}"
        raise LifeError([Fault("P101", reference, what, "Correct what is wrong first.")])
    issue = _issue(premises, gate.life, spec, by, now.date())
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
        changes=issue.changes,
    )

    def bodies(there: Life) -> Sequence[Body]:
        if [entry.sha256 for entry in there.entries] != [e.sha256 for e in gate.life.entries]:
            what = "something was written about this build meanwhile"
            raise LifeError([Fault("P102", reference, what, "Look at the gate again.")])
        return (body,)

    write_entries(
        premises.record,
        reference,
        bodies,
        by=by,
        now=now,
        keep=[kept_spec(spec)],
        documents=[paper],
    )
    return body


def hand_over(
    premises: Premises, reference: str, *, handed_over_on: date, by: Person, now: datetime
) -> Entry:
    """Note that the vehicle went to its owner, with the last issued pack.

    Raises
    ------
    LifeError
        If no pack is issued, something came in its way since, or the day is still to come.
    OvertakenError
        If somebody else noted it a moment before.
    """
    _must_be_manager(by, reference)
    gate = gate_of(premises, reference)
    pack = gate.life.pack
    faults = [_fault(missing) for missing in gate.missing]
    if pack is None:
        what = "no handover pack is issued"
        faults.append(Fault("P103", reference, what, "Issue the final pack first."))
    elif gate.spec is not None and pack.spec_sha256 != gate.spec.sha256():
        what = f"revision {pack.revision} of the pack is not of the vehicle as it is now"
        faults.append(Fault("P104", reference, what, "Issue the next revision first."))
    if handed_over_on > now.date():
        what = f"the day, {handed_over_on.isoformat()}, is still to come"
        faults.append(Fault("P105", reference, what, "Note it on the day itself."))
    if faults or pack is None:
        raise LifeError(faults)
    last = premises.catalog.stages[-1]
    reached = {body.stage_id for body in gate.life.of(StageReached)}
    done: list[Body] = [HandedOver(pack_revision=pack.revision, handed_over_on=handed_over_on)]
    if last.id not in reached:
        done.append(StageReached(stage_id=last.id, reached_on=handed_over_on, letter=pack.letter))
    return write_entries(premises.record, reference, done, by=by, now=now)[0]


def _records(verdicts: Sequence[RecordVerdict]) -> tuple[Missing, ...]:
    return tuple(
        Missing(
            f"{verdict.record.label}{' (serial number)' if verdict.record.slot else ''}",
            verdict.words.rstrip("."),
            "engineer",
            "as-built",
        )
        for verdict in verdicts
        if not verdict.is_settled
    )


def _issue(premises: Premises, life: Life, spec: Spec, by: Person, today: date) -> PackIssue:
    packs = life.of(PackIssued)
    labels = {found.id: found.label for found in sign_offs_asked(premises, life)}
    return PackIssue(
        revision=len(packs) + 1,
        letter=life.issued.letter if life.issued else "",
        issued_on=today,
        issued_by=by.in_words,
        changes=_changes(premises, life, spec, packs[-1] if packs else None),
        signed_by=tuple(
            f"{labels.get(signed.sign_off, signed.sign_off)}: {life.entry_of(signed).by.in_words}"
            for signed in life.holding_sign_offs
        ),
        earlier=tuple(
            EarlierIssue(
                pack.revision,
                life.entry_of(pack).made_at.date(),
                pack.changes,
                life.entry_of(pack).by.in_words,
            )
            for pack in packs
        ),
    )


def _changes(
    premises: Premises, life: Life, spec: Spec, last: PackIssued | None
) -> tuple[str, ...]:
    """Say what differs from the revision before, in short sentences."""
    if last is None:
        return ()
    found = spec_differences(read_spec(premises, life, last.spec_sha256), spec)
    told = [f"{item.label}: {item.after or 'none'}." for item in (*found.choices, *found.survey)]
    told += [f"{item.label} differs." for item in (*found.masses, *found.ranges)]
    told += [f"Text “{text.title}”: {text.how}." for text in found.texts]
    since = life.entry_of(last).number
    told += [
        f"Measured again: {entry.body.record.replace('-', ' ')}."
        for entry in life.entries
        if entry.number > since and isinstance(entry.body, AsBuiltRecorded)
    ]
    return tuple(sentence[:200] for sentence in told) or ("Figures differ in detail.",)


def _must_be_manager(by: Person, reference: str) -> None:
    if by.role != "manager" and not by.is_solo:
        what = f"a manager hands over, not {by.in_words}"
        raise LifeError([Fault("P100", reference, what, "Let the manager do it.")])


def _fault(missing: Missing) -> Fault:
    role = missing.role.replace("-", " ")
    return Fault("P106", missing.what, missing.why, f"This can be closed by: {role}.")
