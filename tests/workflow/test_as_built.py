"""What was measured is written down with its instrument, held against limits, and computed with."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from configurator.build_life.entries import AsBuiltRecorded, SpecIssued
from configurator.build_life.people import Person
from configurator.build_life.tolerances import RecordVerdict
from configurator.catalog.models.component import Pack, Slot
from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.workflow.as_built import (
    how_built_stands,
    measured_draft_pack,
    measured_spec,
    record_measurement,
    record_serial_numbers,
)
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.issuing import freeze, issued_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from tests.documents.read_pdf import flat_text, read_pages
from tests.workflow.led_through_life import pick

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"
ENGINEER = Person(name="Invented Engineer", role="engineer")
RECORDS = """records:
  - id: battery
    label: Capacity of the battery
    stage: build
    applies_if: {slots: {pack: []}}
    values:
      - {id: energy, label: Energy, unit: kWh, tells: pack-capacity-kwh, sigma_percent: 0.5,
         at_least: {of: pack-capacity-kwh, percent: 90}}
      - {id: method, label: Method, kind: text}
    because: It is invented.
    source: invented for tests
  - id: tickets
    label: Tickets
    stage: give-back
    values:
      - {id: front, label: Front, unit: kg, tells: front-axle-kg, at_most: front-axle-limit-kg}
      - {id: rear, label: Rear, unit: kg, tells: rear-axle-kg}
      - {id: level, label: The road is level, kind: yes-no}
    needs_calibration: false
    because: It is invented.
    source: invented for tests
  - id: elsewhere
    label: Asked for elsewhere
    stage: build
    country: Elsewhere
    values: [{id: seen, label: Seen, kind: yes-no}]
    because: It is invented.
    source: invented for tests
"""


@pytest.fixture
def catalog_folder(tmp_path: Path) -> Path:
    folder = Path(shutil.copytree(TINY, tmp_path / "catalog"))
    (folder / "as_built.yaml").write_text(RECORDS, encoding="utf-8")
    return folder


def freeze_now(premises: Premises, reference: str, now: datetime, because: str = "") -> SpecIssued:
    findings = spec_of_draft(premises, reference).findings
    return freeze(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        because=because,
        by=ENGINEER,
        now=now,
    )


@pytest.fixture
def issued(premises: Premises, reference: str, now: datetime) -> SpecIssued:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    return freeze_now(premises, reference, now)


Recorder = Callable[..., object]


@pytest.fixture
def record(premises: Premises, reference: str, issued: SpecIssued, now: datetime) -> Recorder:
    later = now + timedelta(days=30)

    def write(record_id: str, values: dict[str, float | str], **more: Any) -> object:
        usual: dict[str, Any] = {
            "instrument": "Sample meter 3",
            "calibrated_until": date(2027, 1, 1),
            "measured_on": later.date(),
            "by": ENGINEER,
            "now": later,
        }
        told = {**usual, **more}
        return record_measurement(premises, reference, record_id, values=values, **told)

    return write


def capacity_kwh(premises: Premises, reference: str) -> float:
    pack = issued_spec(premises, reference).component("pack")
    assert isinstance(pack, Pack)
    return pack.capacity_kwh


def verdict(premises: Premises, reference: str, record_id: str) -> RecordVerdict:
    verdicts = how_built_stands(premises, reference).verdicts
    return next(found for found in verdicts if found.record.id == record_id)


def codes(error: pytest.ExceptionInfo[LifeError]) -> list[str]:
    return sorted(fault.code for fault in error.value.faults)


def test_what_is_needed_follows_from_what_is_fitted_and_from_the_country(
    premises: Premises, reference: str, issued: SpecIssued
) -> None:
    state = how_built_stands(premises, reference)
    asked = [found.record.id for found in state.verdicts]
    assert ["battery", "tickets"] == asked[:2]
    slots = [found.record.slot for found in state.verdicts if found.record.slot]
    assert [fitted.slot for fitted in state.spec.fitted] == slots
    assert state.verdicts == state.unsettled


def test_without_listed_records_weighbridge_and_serial_numbers_are_asked_for(
    premises: Premises, reference: str, issued: SpecIssued
) -> None:
    from configurator.build_life.required_records import required_records

    asked = required_records(issued_spec(premises, reference), ())
    assert {"weighbridge", "serial-number"} == {found.id for found in asked}


def test_a_value_within_its_limits_is_told_with_number_limit_and_source(
    premises: Premises, reference: str, record: Recorder
) -> None:
    kwh = capacity_kwh(premises, reference)
    record("battery", {"energy": kwh, "method": "Constant current"})
    found = verdict(premises, reference, "battery")
    assert (True, True, True) == (found.is_present, found.in_tolerance, found.is_settled)
    assert (kwh, "kWh") == (found.value, found.unit)
    assert 0.9 * kwh == pytest.approx(found.bound)
    assert f"Energy: {kwh:g} kWh, at least {0.9 * kwh:g} kWh" in found.words
    assert "Source: invented for tests." in found.words


def test_a_value_beyond_its_limit_is_kept_and_blocks(
    premises: Premises, reference: str, record: Recorder
) -> None:
    kwh = capacity_kwh(premises, reference)
    record("battery", {"energy": str(0.8 * kwh), "method": "Constant current"})
    found = verdict(premises, reference, "battery")
    assert (True, False, False) == (found.is_present, found.in_tolerance, found.is_settled)
    assert f"it must be at least {0.9 * kwh:g} kWh" in found.words


def test_a_no_blocks(premises: Premises, reference: str, record: Recorder) -> None:
    record("tickets", {"front": 500, "rear": 500, "level": "No"}, calibrated_until=None)
    found = verdict(premises, reference, "tickets")
    assert False is found.in_tolerance
    assert "The road is level: no; it must be yes." in found.words


def test_an_instrument_whose_calibration_had_ended_blocks(
    premises: Premises, reference: str, record: Recorder
) -> None:
    values = {"energy": capacity_kwh(premises, reference), "method": "Constant current"}
    record("battery", values, calibrated_until=date(2026, 4, 1))
    found = verdict(premises, reference, "battery")
    assert False is found.in_tolerance
    assert "ended on 1 April 2026" in found.words


def test_a_later_record_takes_the_place_of_an_earlier_one_and_both_are_kept(
    premises: Premises, reference: str, record: Recorder
) -> None:
    kwh = capacity_kwh(premises, reference)
    record("battery", {"energy": 0.5 * kwh, "method": "Badly"})
    record("battery", {"energy": kwh, "method": "Again"})
    assert verdict(premises, reference, "battery").is_settled
    assert 2 == len(read_life(premises.record, reference).of(AsBuiltRecorded))


def test_every_fault_of_a_record_is_told_at_once_and_nothing_is_written(
    premises: Premises, reference: str, record: Recorder
) -> None:
    with pytest.raises(LifeError) as refused:
        record(
            "battery",
            {"energy": "a lot", "engergy": 3},
            instrument=" ",
            calibrated_until=None,
            measured_by="  ",
            note="x" * 300,
        )
    assert ["P091", "P092", "P093", "P095", "P095", "P096", "P097"] == codes(refused)
    assert any('mean "energy"' in fault.remedy for fault in refused.value.faults)
    assert () == read_life(premises.record, reference).records


@pytest.mark.parametrize(
    ("record_id", "values", "code"),
    [
        ("batery", {}, "P090"),
        ("tickets", {"front": 5, "rear": 500, "level": "yes"}, "P094"),
        ("tickets", {"front": "nan", "rear": 500, "level": "yes"}, "P093"),
        ("tickets", {"front": "1e300", "rear": 500, "level": "yes"}, "P093"),
        ("tickets", {"front": 500, "rear": 500, "level": "perhaps"}, "P093"),
        ("battery", {"energy": 12, "method": "By invented person"}, "R023"),
    ],
)
def test_what_cannot_be_is_refused(
    record: Recorder, record_id: str, values: dict[str, float | str], code: str
) -> None:
    with pytest.raises(LifeError) as refused:
        record(record_id, values)
    assert [code] == codes(refused)


def test_a_day_before_the_issue_or_to_come_is_refused(record: Recorder) -> None:
    values: dict[str, float | str] = {"front": 500, "rear": 500, "level": "yes"}
    for day, code in ((date(2026, 3, 3), "L020"), (date(2026, 4, 4), "L021")):
        with pytest.raises(LifeError) as refused:
            record("tickets", values, measured_on=day)
        assert [code] == codes(refused)


def test_nothing_is_measured_before_a_spec_is_issued(
    premises: Premises, reference: str, now: datetime
) -> None:
    with pytest.raises(LifeError) as refused:
        record_measurement(
            premises,
            reference,
            "tickets",
            values={},
            measured_on=now.date(),
            by=ENGINEER,
            now=now,
        )
    assert ["L007"] == codes(refused)


def test_serial_numbers_are_written_all_or_none(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    with pytest.raises(LifeError):
        record_serial_numbers(
            premises,
            reference,
            {"pack": "SAMPLE-1", "motor": " "},
            read_on=now.date(),
            by=ENGINEER,
            now=now,
        )
    assert () == read_life(premises.record, reference).records
    record_serial_numbers(
        premises,
        reference,
        {"pack": "SAMPLE-1", "motor": "SAMPLE-2"},
        read_on=now.date(),
        by=ENGINEER,
        now=now,
    )
    numbers = {part.slot: part.serial_number for part in measured_spec(premises, reference).fitted}
    assert ("SAMPLE-1", "SAMPLE-2", None) == (numbers["pack"], numbers["motor"], numbers["tyre"])


def test_one_number_does_not_stand_for_two_parts(
    premises: Premises, reference: str, issued: SpecIssued, now: datetime
) -> None:
    # Source: common practice, no source: a recall finds a part by its number alone.
    def read(numbers: dict[Slot, str]) -> object:
        return record_serial_numbers(
            premises, reference, numbers, read_on=now.date(), by=ENGINEER, now=now
        )

    with pytest.raises(LifeError) as refused:
        read({"pack": "SAMPLE-1", "motor": "sample - 1"})
    assert ["P133"] == codes(refused)
    assert () == read_life(premises.record, reference).records
    read({"pack": "SAMPLE-1"})
    with pytest.raises(LifeError) as refused:
        read({"motor": "SAMPLE-1"})
    assert ["P133"] == codes(refused)
    read({"motor": "SAMPLE-1, one plate with the battery"})
    read({"charger": "None; invoice in the file", "reduction": "None; invoice in the file"})
    read({"pack": "SAMPLE-3"})
    read({"motor": "SAMPLE-1"})


def test_while_nothing_is_measured_the_measured_spec_is_the_issued_one(
    premises: Premises, reference: str, issued: SpecIssued
) -> None:
    assert issued.spec_sha256 == measured_spec(premises, reference).sha256()


def test_range_and_loads_follow_from_what_was_measured(
    premises: Premises, reference: str, record: Recorder
) -> None:
    ordered = issued_spec(premises, reference)
    kwh = capacity_kwh(premises, reference)
    front, rear = ordered.weights.front.kerb_low_kg, ordered.weights.rear.kerb_low_kg
    record("tickets", {"front": front + 10, "rear": rear + 30, "level": "yes"})
    record("battery", {"energy": 0.95 * kwh, "method": "Constant current"})
    spec = measured_spec(premises, reference)
    laden = ordered.fact("laden_rear_axle_kg"), spec.fact("laden_rear_axle_kg")
    assert laden[0] is not None
    assert laden[1] is not None
    assert laden[0].low + 30 == pytest.approx(laden[1].low, abs=0.01)
    assert (spec.ranges[0].mid_km or 0) < (ordered.ranges[0].mid_km or 0)
    assert spec.build.as_built is not None
    assert 0.5 == spec.build.as_built.pack_capacity_sigma_percent
    promised = {fact.name: fact for fact in spec.build.as_built.ordered}
    assert ordered.fact("usable_energy_kwh") is not None
    carrying = ordered.weights.carrying
    assert carrying is not None
    assert carrying.payload_kg == promised["payload_kg"].low
    assert promised["usable_energy_kwh"].low > spec.fact("usable_energy_kwh").low  # type: ignore[union-attr]


def test_another_battery_is_measured_again_and_the_weighing_too(
    premises: Premises, reference: str, record: Recorder, now: datetime
) -> None:
    kwh = capacity_kwh(premises, reference)
    record("battery", {"energy": kwh, "method": "Constant current"})
    record("tickets", {"front": 500, "rear": 500, "level": "yes"})
    spec = issued_spec(premises, reference)
    cells = next(choice for choice in spec.choices if choice.group_id == "cells")
    other = "few-cells" if cells.option_id == "many-cells" else "many-cells"
    revision = read_draft(premises, reference).revision
    pick_option(premises, reference, revision=revision, group_id="cells", option_id=other, now=now)
    freeze_now(premises, reference, now + timedelta(days=31), because="Another battery")
    for name in ("battery", "tickets"):
        found = verdict(premises, reference, name)
        assert (True, False, False) == (found.is_present, found.in_tolerance, found.counts)
        assert "another part was fitted" in found.words
    built = measured_spec(premises, reference).build.as_built
    assert built is None


def test_a_spec_issued_meanwhile_is_told(
    premises: Premises,
    reference: str,
    record: Recorder,
    now: datetime,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def issuing_meanwhile(*named: Any) -> object:
        found = issued_spec(*named)
        if read_life(premises.record, reference).issued == first:
            pick(premises, reference, "livery", "sloe", now)
            freeze_now(premises, reference, now, because="Another colour")
        return found

    first = read_life(premises.record, reference).issued
    monkeypatch.setattr("configurator.workflow.as_built.issued_spec", issuing_meanwhile)
    with pytest.raises(LifeError) as refused:
        record("tickets", {"front": 500, "rear": 500, "level": "yes"})
    assert ["P099"] == codes(refused)


def test_a_record_of_a_spec_that_an_older_version_kept_can_be_written(
    premises: Premises, reference: str, record: Recorder, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A later version reads a kept spec with fields of its own, so that it hashes otherwise.
    older = issued_spec(premises, reference).model_copy(update={"tool_version": "0.0.0"})
    monkeypatch.setattr("configurator.workflow.as_built.issued_spec", lambda *_: older)
    record("tickets", {"front": 500, "rear": 500, "level": "yes"})


def test_the_catalog_of_the_issue_computes_although_the_workshop_has_a_new_one(
    premises: Premises, reference: str, record: Recorder, catalog_folder: Path, data_folder: Path
) -> None:
    from configurator.workflow.premises import open_premises

    kwh = capacity_kwh(premises, reference)
    record("battery", {"energy": kwh, "method": "Constant current"})
    before = measured_spec(premises, reference)
    power = catalog_folder / "components" / "power.yaml"
    text = power.read_text(encoding="utf-8")
    power.write_text(text.replace("usable_percent: 90", "usable_percent: 50"), encoding="utf-8")
    again = open_premises(catalog_folder, data_folder)
    try:
        assert again.catalog.sha256 != premises.catalog.sha256
        assert before.sha256() == measured_spec(again, reference).sha256()
    finally:
        again.record.engine.dispose()


def test_the_draft_pack_tells_what_is_measured_so_far_and_stays_marked(
    premises: Premises, reference: str, record: Recorder
) -> None:
    record("tickets", {"front": 543, "rear": 587, "level": "yes"})
    pages = read_pages(measured_draft_pack(premises, reference))
    assert [] == [page.number for page in pages if "DRAFT" not in page.text]
    told = flat_text(pages)
    assert "Front: 543 kg" in told
    assert "Ordered, computed and measured" in told


def test_a_consultant_does_not_write_down_what_was_measured(
    premises: Premises, reference: str, now: datetime
) -> None:
    # Source: common practice, no source: who sells does not fill in the test records.
    consultant = Person(name="Invented Consultant", role="consultant")
    with pytest.raises(LifeError, match="engineer or second person or manager") as refused:
        record_measurement(
            premises,
            reference,
            "battery",
            values={},
            measured_on=now.date(),
            by=consultant,
            now=now,
        )
    assert ["P130"] == [fault.code for fault in refused.value.faults]
