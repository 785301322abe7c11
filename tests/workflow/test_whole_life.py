"""One build from the enquiry to its owner, and a correction afterwards, on both databases."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from configurator.build_life.entries import SignedOff
from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.workflow.as_built import measured_spec
from configurator.workflow.builds import read_draft
from configurator.workflow.change_orders import propose_change, sign_change
from configurator.workflow.consultation import pick_option
from configurator.workflow.handover import gate_of, hand_over, issue_pack
from configurator.workflow.papers import documents_folder, spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.stages import reach_stage
from configurator.workflow.verifying import verify_all
from configurator.workflow.waiting import what_waits
from tests.workflow.answering import answers_for
from tests.workflow.led_through_life import (
    CONSULTANT,
    ENGINEER,
    MANAGER,
    make_it_ready,
    measure_it,
    order_it,
    read_the_numbers,
    sign_everything,
)


@pytest.fixture
def premises(anywhere: Premises) -> Premises:
    return anywhere


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
    front = round(spec.weights.front.kerb_low_kg, 1)
    told = next(sentence for sentence in second.changes if "Weighbridge" in sentence)
    assert f"Front axle: {front + 1:g} kg" in told
    assert f"was Front axle: {front:g} kg" in told
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
    make_it_ready(premises, reference, now)
    issue_pack(premises, reference, by=MANAGER, now=now)
    with pytest.raises(LifeError) as again:
        issue_pack(premises, reference, by=MANAGER, now=now)
    assert ["P101"] == [fault.code for fault in again.value.faults]
    tomorrow = now.date() + timedelta(days=1)
    with pytest.raises(LifeError) as too_soon:
        hand_over(premises, reference, handed_over_on=tomorrow, by=MANAGER, now=now)
    assert ["P105"] == [fault.code for fault in too_soon.value.faults]
