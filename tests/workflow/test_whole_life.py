"""One build from the enquiry to its owner, and a correction afterwards, on both databases."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from configurator.build_life.entries import SignedOff
from configurator.build_life.people import Person
from configurator.build_life.required_records import SERIAL_NUMBER, WEIGHBRIDGE
from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.workflow.as_built import (
    how_built_stands,
    measured_spec,
    record_measurement,
    record_serial_numbers,
)
from configurator.workflow.builds import read_draft
from configurator.workflow.change_orders import propose_change, sign_change
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.handover import gate_of, hand_over, issue_pack
from configurator.workflow.issuing import issued_spec
from configurator.workflow.papers import documents_folder, spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import how_sign_offs_stand, sign
from configurator.workflow.stages import reach_stage
from configurator.workflow.verifying import verify_all
from configurator.workflow.waiting import what_waits
from tests.workflow.answering import answers_for

CONSULTANT = Person(name="Invented Consultant", role="consultant")
ENGINEER = Person(name="Invented Engineer", role="engineer")
MANAGER = Person(name="Invented Manager", role="manager")


@pytest.fixture
def premises(anywhere: Premises) -> Premises:
    return anywhere


def order_it(premises: Premises, reference: str, now: datetime) -> None:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    give_quotation(premises, reference, revision=2, by=CONSULTANT, now=now)
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


def change_it(premises: Premises, reference: str, now: datetime) -> None:
    draft, spec = read_draft(premises, reference), spec_of_draft(premises, reference)
    group = next(g for g in premises.catalog.groups_for("clover-van") if g.id == "livery")
    other = next(
        o.id
        for o in group.options
        if (was := spec.chosen("livery")) is not None and o.id != was.option_id
    )
    pick_option(
        premises,
        reference,
        revision=draft.revision,
        group_id="livery",
        option_id=other,
        now=now,
    )
    propose_change(
        premises,
        reference,
        revision=draft.revision + 1,
        answers=answers_for(premises, reference),
        by=ENGINEER,
        now=now,
    )
    sign_change(premises, reference, 1, side="customer", how="On paper", by=CONSULTANT, now=now)
    sign_change(premises, reference, 1, side="workshop", how="On paper", by=MANAGER, now=now)


def measure_it(premises: Premises, reference: str, now: datetime, more_kg: float = 0.0) -> None:
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
        measured_by="Invented Engineer",
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


def test_a_build_from_the_enquiry_to_its_owner(
    premises: Premises, reference: str, now: datetime, data_folder: Path
) -> None:
    assert "No spec is issued" == gate_of(premises, reference).missing[0].what
    order_it(premises, reference, now)
    sign_everything(premises, reference, now)
    for stage in ("begin", "build"):
        reach_stage(premises, reference, stage, reached_on=now.date(), by=MANAGER, now=now)
    change_it(premises, reference, now)
    life = read_life(premises.record, reference)
    assert life.issued is not None
    assert "B" == life.issued.letter
    assert gate_of(premises, reference).missing
    with pytest.raises(LifeError) as too_early:
        issue_pack(premises, reference, by=MANAGER, now=now)
    assert {"P106"} == {fault.code for fault in too_early.value.faults}

    sign_everything(premises, reference, now)
    measure_it(premises, reference, now)
    read_the_numbers(premises, reference, now)
    assert () == gate_of(premises, reference).missing
    pack = issue_pack(premises, reference, by=MANAGER, now=now)
    assert (1, "B") == (pack.revision, pack.letter)
    first = documents_folder(premises, reference) / pack.document_name
    before = first.read_bytes()
    spec = measured_spec(premises, reference)
    assert spec.sha256() == pack.spec_sha256
    assert spec.weights.measured_kerb_kg is not None

    later = now + timedelta(days=1)
    measure_it(premises, reference, later, more_kg=1.0)
    with pytest.raises(LifeError) as stale:
        hand_over(premises, reference, handed_over_on=later.date(), by=MANAGER, now=later)
    assert ["P104"] == [fault.code for fault in stale.value.faults]
    second = issue_pack(premises, reference, by=MANAGER, now=later)
    assert 2 == second.revision
    assert "Measured again: weighbridge." in second.changes
    assert before == first.read_bytes(), "an issued pack is never overwritten"
    hand_over(premises, reference, handed_over_on=later.date(), by=MANAGER, now=later)

    (listed,) = what_waits(premises, later.date())
    assert listed.standing.startswith("Handed over")
    assert () == listed.waiting
    assert () == verify_all(premises.record, data_folder).faults
    assert len(read_life(premises.record, reference).of(SignedOff)) >= 2


def test_a_manager_issues_and_hands_over(premises: Premises, reference: str, now: datetime) -> None:
    with pytest.raises(LifeError, match="manager"):
        issue_pack(premises, reference, by=ENGINEER, now=now)
    with pytest.raises(LifeError, match="manager"):
        hand_over(premises, reference, handed_over_on=now.date(), by=CONSULTANT, now=now)


def test_nothing_is_issued_or_handed_over_twice(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    sign_everything(premises, reference, now)
    for stage in ("begin", "build"):
        reach_stage(premises, reference, stage, reached_on=now.date(), by=MANAGER, now=now)
    measure_it(premises, reference, now)
    read_the_numbers(premises, reference, now)
    issue_pack(premises, reference, by=MANAGER, now=now)
    with pytest.raises(LifeError) as again:
        issue_pack(premises, reference, by=MANAGER, now=now)
    assert ["P101"] == [fault.code for fault in again.value.faults]
    tomorrow = now.date() + timedelta(days=1)
    with pytest.raises(LifeError) as too_soon:
        hand_over(premises, reference, handed_over_on=tomorrow, by=MANAGER, now=now)
    assert ["P105"] == [fault.code for fault in too_soon.value.faults]
