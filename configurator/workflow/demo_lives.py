"""Lead a demonstration build through its life, as far as its file says, by the usual steps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from typing import get_args

from configurator.build_life.people import Person
from configurator.build_spec.spec import Finding
from configurator.catalog.models.demo_life import DemoLife, DemoRecord, DemoStep
from configurator.catalog.models.workshop import RoleId
from configurator.workflow.as_built import record_measurement, record_serial_numbers
from configurator.workflow.builds import read_draft
from configurator.workflow.change_orders import propose_change, proposed_change
from configurator.workflow.consultation import pick_option
from configurator.workflow.handover import hand_over, issue_pack
from configurator.workflow.issuing import Answers, issued_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import sign
from configurator.workflow.stages import reach_stage

_STEPS: tuple[DemoStep, ...] = get_args(DemoStep)


def live(premises: Premises, reference: str, life: DemoLife, now: datetime) -> None:
    """Quote, order, sign, build, change, measure and hand over, as far as the build's life goes.

    Raises
    ------
    ConfiguratorError
        If a step cannot be taken: a finding blocks, a stage is out of order.
    """
    quoted_at = now - timedelta(days=life.quoted_days_ago)
    ordered_at = now - timedelta(days=life.ordered_days_ago)
    _quote(premises, reference, life, quoted_at)
    if _comes_to(life, "ordered"):
        _order(premises, reference, life, ordered_at)
    if _comes_to(life, "signed"):
        _sign(premises, reference, life, ordered_at)
    _build(premises, reference, life, now)
    if life.change:
        _change(premises, reference, life, now)
    if _comes_to(life, "pack-issued"):
        issue_pack(premises, reference, by=_person(life, "manager"), now=now)
    if _comes_to(life, "handed-over"):
        manager = _person(life, "manager")
        hand_over(premises, reference, handed_over_on=now.date(), by=manager, now=now)


def _comes_to(life: DemoLife, step: DemoStep) -> bool:
    return _STEPS.index(step) <= _STEPS.index(life.until)


def _quote(premises: Premises, reference: str, life: DemoLife, at: datetime) -> None:
    revision = read_draft(premises, reference).revision
    by = _person(life, "consultant")
    give_quotation(premises, reference, revision=revision, by=by, now=at)


def _order(premises: Premises, reference: str, life: DemoLife, at: datetime) -> None:
    accept_quotation(
        premises,
        reference,
        1,
        how=life.paper,
        accepted_on=at.date(),
        answers=_answers(spec_of_draft(premises, reference).findings, life.because),
        by=_person(life, "engineer"),
        now=at,
    )


def _sign(premises: Premises, reference: str, life: DemoLife, at: datetime) -> None:
    sha256 = issued_spec(premises, reference).sha256()
    for sign_off in premises.catalog.workshop.sign_offs:
        by = _person(life, sign_off.role)
        sign(premises, reference, sign_off.id, spec_sha256=sha256, by=by, now=at)


def _change(premises: Premises, reference: str, life: DemoLife, now: datetime) -> None:
    for group_id, option_id in life.change.items():
        revision = read_draft(premises, reference).revision
        pick_option(
            premises,
            reference,
            revision=revision,
            group_id=group_id,
            option_id=option_id,
            now=now,
        )
    findings = proposed_change(premises, reference).spec.findings
    propose_change(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers=_answers(findings, life.because),
        by=_person(life, "engineer"),
        now=now,
    )


def _build(premises: Premises, reference: str, life: DemoLife, now: datetime) -> None:
    """Reach the stages, and measure before each what was measured before it."""
    manager, left = _person(life, "manager"), list(life.records)
    for stage, days_ago in life.stages.items():
        before = [told for told in left if told.days_ago > days_ago]
        _measure(premises, reference, life, before, now)
        left = [told for told in left if told.days_ago <= days_ago]
        at = now - timedelta(days=days_ago)
        reach_stage(premises, reference, stage, reached_on=at.date(), by=manager, now=at)
    _measure(premises, reference, life, left, now)
    numbers, engineer = life.serial_numbers, _person(life, "engineer")
    record_serial_numbers(premises, reference, numbers, read_on=now.date(), by=engineer, now=now)


def _measure(
    premises: Premises, reference: str, life: DemoLife, records: Sequence[DemoRecord], now: datetime
) -> None:
    for told in records:
        at = now - timedelta(days=told.days_ago)
        calibrated_until = None
        if told.calibrated_for_days is not None:
            calibrated_until = at.date() + timedelta(days=told.calibrated_for_days)
        record_measurement(
            premises,
            reference,
            told.record,
            values=told.values,
            instrument=told.instrument,
            calibrated_until=calibrated_until,
            measured_on=at.date(),
            by=_person(life, "engineer"),
            now=at,
        )


def _answers(findings: Iterable[Finding], because: str) -> Answers:
    return {(f.code, f.subject): because for f in findings if f.severity == "warns"}


def _person(life: DemoLife, role: RoleId) -> Person:
    return Person(name=getattr(life.people, role.replace("-", "_")), role=role)
