"""What warns of a vehicle only once it is measured waits for an engineer's reason."""

from __future__ import annotations

import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from configurator.build_life.entries import MeasuredWarningAnswered
from configurator.errors import LifeError
from configurator.record.book import read_life
from configurator.workflow.handover import gate_of, issue_pack
from configurator.workflow.measured_warnings import answer_measured_warning
from configurator.workflow.papers import documents_folder
from configurator.workflow.premises import Premises
from tests.documents.read_pdf import flat_text, read_pages
from tests.workflow.led_through_life import ENGINEER, MANAGER, make_it_ready, measure_it

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"
FRONT_LIMIT = """  - id: light-in-front
    label: Front axle, empty
    limit: kerb_front_axle_kg
    at_most: 560
    severity: warns
    because: It is invented.
    source: invented for tests
"""
NAMED = ("F003", "light-in-front")


@pytest.fixture
def catalog_folder(tmp_path: Path) -> Path:
    folder = Path(shutil.copytree(TINY, tmp_path / "catalog"))
    with (folder / "limits.yaml").open("a", encoding="utf-8") as limits:
        limits.write(FRONT_LIMIT)
    return folder


@pytest.fixture
def heavier(premises: Premises, reference: str, now: datetime) -> str:
    """A vehicle that was light enough as computed, and is not as weighed."""
    make_it_ready(premises, reference, now)
    assert () == gate_of(premises, reference).missing
    measure_it(premises, reference, now, more_kg=40.0)
    return reference


def test_a_new_warning_closes_the_gate_until_an_engineer_says_why(
    premises: Premises, heavier: str, now: datetime
) -> None:
    (missing,) = gate_of(premises, heavier).missing
    assert "584\N{NO-BREAK SPACE}kg, at most 560" in missing.what
    assert ("engineer", "handover") == (missing.role, missing.page)
    with pytest.raises(LifeError):
        issue_pack(premises, heavier, by=MANAGER, now=now)
    answer_measured_warning(
        premises, heavier, *NAMED, reason="Springs were changed <b>", by=ENGINEER, now=now
    )
    assert () == gate_of(premises, heavier).missing
    pack = issue_pack(premises, heavier, by=MANAGER, now=now)
    file = documents_folder(premises, heavier) / pack.document_name
    assert "Why: Springs were changed <b>" in flat_text(read_pages(file.read_bytes()))


def test_no_reason_makes_good_what_is_out_of_tolerance(
    premises: Premises, heavier: str, now: datetime
) -> None:
    assert [NAMED] == [(f.code, f.subject) for f in gate_of(premises, heavier).to_be_answered]
    measure_it(premises, heavier, now, more_kg=2500.0)
    gate = gate_of(premises, heavier)
    assert () == gate.to_be_answered
    assert any("Weighbridge" in missing.what for missing in gate.missing)
    with pytest.raises(LifeError) as refused:
        answer_measured_warning(premises, heavier, *NAMED, reason="Seen", by=ENGINEER, now=now)
    assert ["P132"] == [fault.code for fault in refused.value.faults]
    assert () == read_life(premises.record, heavier).of(MeasuredWarningAnswered)


def test_weighed_anew_it_is_answered_anew(premises: Premises, heavier: str, now: datetime) -> None:
    answer_measured_warning(premises, heavier, *NAMED, reason="Seen", by=ENGINEER, now=now)
    measure_it(premises, heavier, now + timedelta(days=1), more_kg=60.0)
    assert 1 == len(gate_of(premises, heavier).missing)


def test_who_is_no_engineer_or_says_nothing_answers_nothing(
    premises: Premises, heavier: str, now: datetime
) -> None:
    with pytest.raises(LifeError) as refused:
        answer_measured_warning(premises, heavier, *NAMED, reason=" ", by=MANAGER, now=now)
    assert ["P078", "P130"] == sorted(fault.code for fault in refused.value.faults)
    with pytest.raises(LifeError) as refused:
        answer_measured_warning(premises, heavier, "F028", "x", reason="Seen", by=ENGINEER, now=now)
    assert ["P109"] == [fault.code for fault in refused.value.faults]
    assert () == read_life(premises.record, heavier).of(MeasuredWarningAnswered)
