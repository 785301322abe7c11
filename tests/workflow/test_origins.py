"""A brake, steering or restraint part of unknown make does not reach the road.

Source: common practice, no source.
"""

from __future__ import annotations

import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from configurator.workflow.as_built import (
    how_built_stands,
    measured_draft_pack,
    measured_spec,
    record_measurement,
)
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.handover import gate_of
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.survey import set_donors, set_verdict
from tests.documents.read_pdf import flat_text, read_pages
from tests.workflow.led_through_life import ENGINEER, freeze_it, order_it

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"
PART, RECORD = "rear-doors", "marks-of-rear-doors"
NEW_PART = {"verdict": "replace", "origin": "New, to be bought"}


@pytest.fixture
def catalog_folder(tmp_path: Path) -> Path:
    folder = Path(shutil.copytree(TINY, tmp_path / "catalog"))
    survey = folder / "survey" / "van.yaml"
    told = survey.read_text("utf-8")
    survey.write_text(told.rstrip() + "\n    origin_must_be_known: true\n", encoding="utf-8")
    return folder


def _survey(premises: Premises, reference: str, now: datetime, line: dict[str, object]) -> None:
    donor = {"description": "Crushed"} if line.get("from_second_donor") else None
    draft = read_draft(premises, reference)
    if donor is not None:
        draft = set_donors(
            premises, reference, revision=draft.revision, donor={}, second_donor=donor, now=now
        )
    set_verdict(premises, reference, PART, revision=draft.revision, line=line, now=now)


def _asked(premises: Premises, reference: str) -> list[str]:
    return [found.record.id for found in how_built_stands(premises, reference).verdicts]


def _read_the_marks(
    premises: Premises, reference: str, now: datetime, identified: str = "yes"
) -> None:
    marks = "Invented Maker, mark 7"
    record_measurement(
        premises,
        reference,
        RECORD,
        values={"marks": marks, "identified": identified},
        measured_on=now.date(),
        by=ENGINEER,
        now=now,
    )


@pytest.mark.parametrize(
    "case",
    [
        ({"verdict": "keep"}, True),
        ({"verdict": "repair", "origin": "Maker A, cast mark 7"}, False),
        ({"verdict": "keep", "from_second_donor": True}, True),
        ({"verdict": "keep", "from_second_donor": True, "origin": "Maker A"}, False),
        ({"verdict": "replace", "from_second_donor": True}, True),
        # A new part has no marks before it is bought; what was fitted is read on the vehicle.
        ({"verdict": "replace"}, False),
    ],
)
def test_what_is_not_known_of_a_used_part_is_told_before_the_order(
    premises: Premises, reference: str, now: datetime, case: tuple[dict[str, object], bool]
) -> None:
    line, warns = case
    _survey(premises, reference, now, line)
    findings = spec_of_draft(premises, reference).findings
    assert warns == (("F005", PART) in [(found.code, found.subject) for found in findings])


@pytest.mark.parametrize("line", [None, {"verdict": "replace", "origin": "Came with the van"}])
def test_whatever_the_survey_says_the_marks_are_read_on_the_vehicle(
    premises: Premises, reference: str, now: datetime, line: dict[str, object] | None
) -> None:
    if line is not None:
        _survey(premises, reference, now, line)
    order_it(premises, reference, now)
    assert RECORD in _asked(premises, reference)


def test_marks_that_tell_no_maker_do_not_open_the_gate(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    _read_the_marks(premises, reference, now, identified="no")
    (found,) = [v for v in how_built_stands(premises, reference).verdicts if v.record.id == RECORD]
    assert (True, False, False) == (found.is_present, found.in_tolerance, found.is_settled)


def test_the_vehicle_waits_for_maker_and_marks_and_the_pack_tells_them(
    premises: Premises, reference: str, now: datetime
) -> None:
    _survey(premises, reference, now, {"verdict": "keep", "from_second_donor": True})
    order_it(premises, reference, now)
    what = "Rear doors: maker and marks"
    waits = [missing for missing in gate_of(premises, reference).missing if missing.what == what]
    assert [("engineer", "as-built")] == [(missing.role, missing.page) for missing in waits]
    _read_the_marks(premises, reference, now)
    assert what not in [missing.what for missing in gate_of(premises, reference).missing]
    assert "F005" not in [found.code for found in measured_spec(premises, reference).findings]
    told = flat_text(read_pages(measured_draft_pack(premises, reference)))
    assert "From the second donor; Marks: Invented Maker, mark 7; Maker identified: yes" in told


def test_marks_read_on_a_part_do_not_count_for_the_one_that_takes_its_place(
    premises: Premises, reference: str, now: datetime
) -> None:
    _survey(premises, reference, now, {"verdict": "keep"})
    seen = read_draft(premises, reference).revision
    set_house_choices(premises, reference, revision=seen, wanted=True, now=now)
    freeze_it(premises, reference, now)
    _read_the_marks(premises, reference, now)
    later = now + timedelta(days=1)
    _survey(premises, reference, later, NEW_PART)
    freeze_it(premises, reference, later, because="The doors are beyond repair")
    found = how_built_stands(premises, reference).verdicts
    assert [False] == [verdict.counts for verdict in found if verdict.record.id == RECORD]
