"""What the page of measured values says beside an entry and once it is written down."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from configurator.app.view_models.as_built import specified_words, written_notice
from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.required_records import required_records
from configurator.build_life.tolerances import RecordVerdict, record_verdicts
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Finding, Spec
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog

DEMO = Path(__file__).parents[2] / "catalog"


@pytest.fixture(scope="module")
def spec() -> Spec:
    catalog = load_catalog(DEMO)
    return specify(
        catalog, load_build(DEMO / "demo_builds" / "6_finished_pickup.yaml", catalog), Engines()
    )


def tyres(spec: Spec, load_index: float) -> RecordVerdict:
    made = AsBuiltRecorded(
        record="tyres-and-wheels",
        values={
            "size": "185 R 15 C",
            "load-index": load_index,
            "as-specified": "yes",
            "torque": 110.0,
        },
        instrument="Sample wrench",
        calibrated_until=date(2027, 1, 1),
        measured_on=date(2026, 11, 1),
        by="Somebody",
    )
    required = required_records(spec, load_catalog(DEMO).as_built)
    (record,) = [record for record in required if record.id == made.record]
    return record_verdicts((record,), (made,), spec)[0]


def test_a_tyre_below_the_load_index_of_the_spec_is_out_of_tolerance(spec: Spec) -> None:
    # Source: ISO 4000-1: a load index stands for the load that a tyre carries; 103 is fitted here.
    assert tyres(spec, 103).is_settled
    found = tyres(spec, 102)
    assert not found.is_settled
    assert "Least load index of the four: 102; it must be at least 103" in found.words


def test_what_is_specified_stands_beside_what_is_read(spec: Spec) -> None:
    told = specified_words(tyres(spec, 103), spec)
    assert told.startswith("As specified: 185 R 15 C 103 S, Commercial radial")


def test_what_the_checks_say_with_a_value_is_told_with_it(spec: Spec) -> None:
    found = Finding(
        code="F003",
        severity="warns",
        subject="payload",
        sentence="Payload 119 kg, at least 130 kg.",
        source="invented for tests",
        remedy="Weigh again.",
    )
    assert "said" == written_notice(tyres(spec, 103))[0]
    tone, sentences = written_notice(tyres(spec, 103), [found])
    assert "asked" == tone
    assert "A check says now: Payload 119 kg, at least 130 kg." in sentences
