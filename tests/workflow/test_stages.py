"""A stage is reached only over sound records, and the last one only by the handover."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest

from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.workflow import stages
from configurator.workflow.as_built import record_measurement
from configurator.workflow.builds import read_draft
from configurator.workflow.issuing import freeze, issued_spec
from configurator.workflow.order_payments import due_when_reached
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.stages import reach_stage
from configurator.workflow.survey import set_donors
from tests.workflow.answering import answers_for
from tests.workflow.led_through_life import ENGINEER, MANAGER, order_it, sign_everything

ISOLATION = """records:
  - id: isolation
    label: Isolation
    stage: begin
    values: [{id: least, label: Least resistance, unit: kΩ, at_least: 200}]
    needs_calibration: false
    because: It is invented.
    source: invented for tests
"""


def reach(premises: Premises, reference: str, stage: str, now: datetime) -> None:
    reach_stage(premises, reference, stage, reached_on=now.date(), by=MANAGER, now=now)


def measure(premises: Premises, reference: str, kohm: float, now: datetime) -> None:
    record_measurement(
        premises,
        reference,
        "isolation",
        values={"least": kohm},
        instrument="Invented tester",
        measured_on=now.date(),
        measured_by="Invented Engineer",
        by=ENGINEER,
        now=now,
    )


# Source of these: common practice, no source: nobody drives a vehicle whose isolation failed.
def test_a_missing_or_failed_record_of_an_earlier_stage_stops_the_next(
    premises: Premises, reference: str, now: datetime
) -> None:
    (premises.catalog_folder / "as_built.yaml").write_text(ISOLATION, encoding="utf-8")
    premises.record.engine.dispose()
    asking = open_premises(premises.catalog_folder, premises.data_folder)
    order_it(asking, reference, now)
    sign_everything(asking, reference, now)
    reach(asking, reference, "begin", now)
    with pytest.raises(LifeError, match="Begin, Isolation: Not on record yet") as missing:
        reach(asking, reference, "build", now)
    assert ["L023"] == [fault.code for fault in missing.value.faults]
    measure(asking, reference, 180, now)
    with pytest.raises(LifeError, match="180 kΩ") as failed:
        reach(asking, reference, "build", now)
    assert ["L023"] == [fault.code for fault in failed.value.faults]
    measure(asking, reference, 2400, now)
    reach(asking, reference, "build", now)
    asking.record.engine.dispose()


def test_the_last_stage_is_reached_by_the_handover_alone(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    sign_everything(premises, reference, now)
    for stage in ("begin", "build"):
        reach(premises, reference, stage, now)
    with pytest.raises(LifeError, match="handing the vehicle over") as refused:
        reach(premises, reference, "give-back", now)
    assert ["L022"] == [fault.code for fault in refused.value.faults]


def test_a_letter_issued_while_the_records_were_looked_at_stops_the_stage(
    premises: Premises, reference: str, now: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    order_it(premises, reference, now)
    sign_everything(premises, reference, now)
    seen = read_life(premises.record, reference)
    revision = read_draft(premises, reference).revision
    # The donor's description is no part of what the customer signed for, so no change order asks.
    donor = {"description": "Stood in a barn"}
    set_donors(premises, reference, revision=revision, donor=donor, second_donor=None, now=now)
    freeze(
        premises,
        reference,
        revision=revision + 1,
        answers=answers_for(premises, reference),
        because="The donor is described",
        by=ENGINEER,
        now=now,
    )
    monkeypatch.setattr(stages, "read_life", lambda *_: seen)
    with pytest.raises(LifeError) as refused:
        reach(premises, reference, "begin", now)
    assert ["P102"] == [fault.code for fault in refused.value.faults]


def test_what_falls_due_is_the_stages_share_of_the_price(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    life, told = read_life(premises.record, reference), premises.catalog.stages
    issued = issued_spec(premises, reference)
    due = {stage.id: due_when_reached(premises, life, issued, stage.id) for stage in told}
    price = issued.price
    # What is paid over all stages is the price of the order, to the penny.
    assert price.total_low_gbp == sum(due.values())
    for stage in told:
        share = price.total_low_gbp * stage.due_percent / 100
        assert abs(due[stage.id] - share) <= Decimal("0.01") * len(told)
