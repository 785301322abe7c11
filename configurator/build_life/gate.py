"""What still stands between a build and its handover, and who can close it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.build_life.entries import MeasuredWarningAnswered, StageReached
from configurator.build_life.life import Life
from configurator.build_life.sign_off_state import sign_off_states, why_not_signed
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.electrical_recorded import checks_answered
from configurator.build_spec.spec import Finding, Spec
from configurator.catalog.models.workshop import RoleId, SignOff, Stage


@dataclass(frozen=True)
class Missing:
    """One thing that is missing before the final handover pack can be made."""

    what: str
    why: str
    role: RoleId
    """Who can close it."""
    page: str
    """On which screen."""


def missing_for_handover(
    life: Life,
    spec: Spec | None,
    *,
    records: Sequence[RecordVerdict],
    stages: Sequence[Stage],
    sign_offs: Sequence[SignOff],
    draft_differs: bool,
) -> tuple[Missing, ...]:
    """List what is missing before the final pack; empty when it can be made.

    After the handover it is what does not hold on the vehicle.

    Parameters
    ----------
    life : Life
        Of the build.
    spec : Spec or None
        The issued spec with what was measured on the vehicle; None while nothing is issued.
    records : sequence of RecordVerdict
        How each record stands that the vehicle needs.
    stages, sign_offs
        Of the workshop, in order.
    draft_differs : bool
        Whether the draft was changed since the last issued spec.

    Returns
    -------
    tuple of Missing
        In the order in which they are best closed.
    """
    if life.issued is None or spec is None:
        why = "nothing says what was promised"
        return (Missing("No spec is issued", why, "consultant", "quotation"),)
    if life.handed_over is not None:
        # What the workshop plans or asks for by now says nothing of a vehicle with its owner.
        return (*_records(records), *_findings(life, spec, records))
    return (
        *_promises(life, spec, draft_differs=draft_differs),
        *_signatures(life, sign_offs),
        *_stages(life, stages),
        *_records(records),
        *_findings(life, spec, records),
    )


def _promises(life: Life, spec: Spec, *, draft_differs: bool) -> Iterator[Missing]:
    for group in spec.open_groups:
        why = "a pack tells the owner what is fitted"
        yield Missing(f"{group.group_label} is still open", why, "consultant", "consultation")
    order = life.open_change
    if order is not None:
        what = f"Change order C{order.number} waits for a signature"
        signed = {signature.by for signature in life.signatures(order.number)}
        role: RoleId = "manager" if "customer" in signed else "consultant"
        yield Missing(what, "what was promised is in the balance", role, "changes")
    elif draft_differs and life.issued is not None:
        what = f"The draft was changed after spec {life.issued.letter}"
        why = "either it is ordered and signed, or it is taken back"
        yield Missing(what, why, "consultant", "changes")


def _signatures(life: Life, sign_offs: Sequence[SignOff]) -> Iterator[Missing]:
    missing = [state for state in sign_off_states(life, sign_offs) if state.signed is None]
    for state in missing:
        why = f"{', '.join(state.voided_because)} changed" if state.voided_because else "not signed"
        yield Missing(f"Sign-off: {state.sign_off.label}", why, state.sign_off.role, "sign-off")
    if not missing:
        for sentence in why_not_signed(life, sign_offs):
            yield Missing("Sign-off", sentence.rstrip("."), "second-person", "sign-off")


def _stages(life: Life, stages: Sequence[Stage]) -> Iterator[Missing]:
    reached = {body.stage_id for body in life.of(StageReached)}
    for stage in stages[:-1]:
        if stage.id not in reached:
            why = "every stage before the last must be behind"
            yield Missing(f"{stage.label} is not reached", why, "manager", "sign-off")


def _records(records: Sequence[RecordVerdict]) -> Iterator[Missing]:
    for found in records:
        if not found.is_settled:
            what = f"{found.record.label}{' (serial number)' if found.record.slot else ''}"
            yield Missing(what, found.words.rstrip("."), "engineer", "as-built")


def _findings(life: Life, spec: Spec, records: Sequence[RecordVerdict]) -> Iterator[Missing]:
    for finding in spec.findings:
        if finding.severity == "blocks":
            why = f"{finding.code}: {finding.remedy}"
            yield Missing(finding.sentence.rstrip("."), why, "engineer", "as-built")
    beyond = out_of_tolerance(records)
    told = {check for found in beyond for check in checks_answered(found.record.values)}
    then = " once the records hold" if beyond else ""
    for finding in unanswered_warnings(life, spec):
        if finding.subject not in told:
            why = f"{finding.code}: mend it, or{then} write why it is handed over so"
            yield Missing(finding.sentence.rstrip("."), why, "engineer", "handover")


def out_of_tolerance(records: Sequence[RecordVerdict]) -> tuple[RecordVerdict, ...]:
    """List what was measured beyond its limits: no reason takes the place of mending it."""
    return tuple(
        found
        for found in records
        if found.is_present and not found.is_settled and found.in_tolerance is False
    )


def unanswered_warnings(life: Life, spec: Spec) -> tuple[Finding, ...]:
    """List what warns of the vehicle as measured, and nobody has written why it may be so.

    Parameters
    ----------
    life : Life
        Of the build.
    spec : Spec
        With what was measured.
    """
    return tuple(
        finding
        for finding in spec.findings
        if finding.severity == "warns" and reason_for(life, finding) is None
    )


def reason_for(life: Life, finding: Finding) -> str | None:
    """Give why the work goes on although a check warns; None where nobody wrote it."""
    for measured in life.of(MeasuredWarningAnswered):
        if (measured.code, measured.subject, measured.value) == _named(finding):
            return measured.reason
    for answer in () if life.issued is None else life.issued.answered:
        if (answer.code, answer.subject) == (finding.code, finding.subject):
            return answer.reason
    return None


def _named(finding: Finding) -> tuple[str, str, float | None]:
    return finding.code, finding.subject, finding.value
