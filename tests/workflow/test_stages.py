"""A stage is reached only over sound records, and the last one only by the handover."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest

from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.workflow.as_built import record_measurement
from configurator.workflow.issuing import issued_spec
from configurator.workflow.order_payments import due_when_reached
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.stages import reach_stage
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


def test_what_falls_due_is_the_stages_share_of_the_price(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    life, stages = read_life(premises.record, reference), premises.catalog.stages
    due = {stage.id: due_when_reached(premises, life, stage.id) for stage in stages}
    price = issued_spec(premises, reference).price
    # What is paid over all stages is the price of the order, to the penny.
    assert price.total_low_gbp == sum(due.values())
    for stage in stages:
        share = price.total_low_gbp * stage.due_percent / 100
        assert abs(due[stage.id] - share) <= Decimal("0.01") * len(stages)
