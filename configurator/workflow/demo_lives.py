"""Lead a demonstration build through its life, as far as its file says, by the usual steps."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from configurator.build_life.people import Person
from configurator.build_spec.spec import Finding
from configurator.catalog.models.demo_life import DemoLife
from configurator.catalog.models.workshop import RoleId
from configurator.workflow.builds import read_draft
from configurator.workflow.change_orders import propose_change, proposed_change
from configurator.workflow.consultation import pick_option
from configurator.workflow.issuing import Answers, issued_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import sign
from configurator.workflow.stages import reach_stage


def live(premises: Premises, reference: str, life: DemoLife, now: datetime) -> None:
    """Quote, order, sign, build and change a demonstration build, as far as its life goes.

    Raises
    ------
    ConfiguratorError
        If a step cannot be taken: a finding blocks, a stage is out of order.
    """
    consultant, engineer = _person(life, "consultant"), _person(life, "engineer")
    revision = read_draft(premises, reference).revision
    quoted = give_quotation(premises, reference, revision=revision, by=consultant, now=now)
    if life.until == "quoted":
        return
    accept_quotation(
        premises,
        reference,
        quoted.number,
        how=life.paper,
        accepted_on=now.date(),
        answers=_answers(spec_of_draft(premises, reference).findings, life.because),
        by=engineer,
        now=now,
    )
    if life.until == "signed":
        _sign(premises, reference, life, now)
    for stage in life.stages:
        manager = _person(life, "manager")
        reach_stage(premises, reference, stage, reached_on=now.date(), by=manager, now=now)
    if life.change:
        _change(premises, reference, life, now)


def _sign(premises: Premises, reference: str, life: DemoLife, now: datetime) -> None:
    sha256 = issued_spec(premises, reference).sha256()
    for sign_off in premises.catalog.workshop.sign_offs:
        by = _person(life, sign_off.role)
        sign(premises, reference, sign_off.id, spec_sha256=sha256, by=by, now=now)


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


def _answers(findings: Iterable[Finding], because: str) -> Answers:
    return {(f.code, f.subject): because for f in findings if f.severity == "warns"}


def _person(life: DemoLife, role: RoleId) -> Person:
    return Person(name=getattr(life.people, role.replace("-", "_")), role=role)
