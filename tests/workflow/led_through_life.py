"""Lead a build of the tiny workshop through its life, step by step, for tests."""

from __future__ import annotations

from datetime import datetime

from configurator.build_life.entries import SpecIssued
from configurator.build_life.people import Person
from configurator.build_life.required_records import SERIAL_NUMBER, WEIGHBRIDGE
from configurator.catalog.models.as_built import MARKS_OF
from configurator.record.book import read_life
from configurator.workflow.as_built import (
    how_built_stands,
    record_measurement,
    record_serial_numbers,
)
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.handover import hand_over, issue_pack
from configurator.workflow.issuing import freeze, issued_spec
from configurator.workflow.premises import Premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import how_sign_offs_stand, sign
from configurator.workflow.stages import reach_stage
from tests.workflow.answering import answers_for

CONSULTANT = Person(name="Invented Consultant", role="consultant")
ENGINEER = Person(name="Invented Engineer", role="engineer")
MANAGER = Person(name="Invented Manager", role="manager")


def freeze_it(
    premises: Premises,
    reference: str,
    now: datetime,
    because: str = "",
    not_ordered_because: str = "",
) -> SpecIssued:
    return freeze(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers=answers_for(premises, reference),
        because=because,
        not_ordered_because=not_ordered_because,
        by=ENGINEER,
        now=now,
    )


def pick(premises: Premises, reference: str, group: str, option: str, now: datetime) -> Draft:
    return pick_option(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        group_id=group,
        option_id=option,
        now=now,
    )


def order_it(premises: Premises, reference: str, now: datetime) -> None:
    seen = read_draft(premises, reference).revision
    set_house_choices(premises, reference, revision=seen, wanted=True, now=now)
    give_quotation(premises, reference, revision=seen + 1, by=CONSULTANT, now=now)
    accept_quotation(
        premises,
        reference,
        1,
        how="On paper, in the file",
        accepted_on=now.date(),
        answers=answers_for(premises, reference),
        by=ENGINEER,
        now=now,
    )


def sign_everything(premises: Premises, reference: str, now: datetime) -> None:
    issued = read_life(premises.record, reference).issued
    assert issued is not None
    states, _ = how_sign_offs_stand(premises, reference)
    people = {"engineer": MANAGER.model_copy(update={"role": "engineer"}), "consultant": CONSULTANT}
    for state in states:
        if state.signed is None:
            by, sha256 = people[state.sign_off.role], issued.spec_sha256
            sign(premises, reference, state.sign_off.id, spec_sha256=sha256, by=by, now=now)


def measure_it(
    premises: Premises, reference: str, now: datetime, more_kg: float = 0.0, note: str = ""
) -> None:
    spec = issued_spec(premises, reference)
    weights = spec.weights
    record_measurement(
        premises,
        reference,
        WEIGHBRIDGE,
        values={
            "front": round(weights.front.kerb_low_kg + more_kg, 1),
            "rear": round(weights.rear.kerb_low_kg, 1),
        },
        instrument="Invented weighbridge",
        measured_on=now.date(),
        note=note,
        by=ENGINEER,
        now=now,
    )


def read_the_numbers(premises: Premises, reference: str, now: datetime) -> None:
    wanted = how_built_stands(premises, reference).verdicts
    numbers = {
        verdict.record.slot: f"SAMPLE-{verdict.record.slot}"
        for verdict in wanted
        if verdict.record.id == SERIAL_NUMBER and verdict.record.slot is not None
    }
    record_serial_numbers(premises, reference, numbers, read_on=now.date(), by=ENGINEER, now=now)
    for verdict in wanted:
        if verdict.record.id.startswith(MARKS_OF):
            record_measurement(
                premises,
                reference,
                verdict.record.id,
                values={"marks": "Invented maker, cast 7", "identified": "yes"},
                measured_on=now.date(),
                by=ENGINEER,
                now=now,
            )


def make_it_ready(premises: Premises, reference: str, now: datetime) -> None:
    """Do everything that the gate asks for."""
    order_it(premises, reference, now)
    sign_everything(premises, reference, now)
    for stage in ("begin", "build"):
        reach_stage(premises, reference, stage, reached_on=now.date(), by=MANAGER, now=now)
    measure_it(premises, reference, now)
    read_the_numbers(premises, reference, now)


def hand_it_over(premises: Premises, reference: str, now: datetime) -> None:
    make_it_ready(premises, reference, now)
    issue_pack(premises, reference, by=MANAGER, now=now)
    hand_over(premises, reference, handed_over_on=now.date(), by=MANAGER, now=now)
