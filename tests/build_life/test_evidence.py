"""Beside each choice of an issued pack stands what was read and measured of it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.evidence import evidence_of_choices
from configurator.build_life.required_records import required_records
from configurator.build_life.tolerances import record_verdicts
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog

DEMO = Path(__file__).parents[2] / "catalog"
DAY = date(2026, 11, 20)


def made(record: str) -> AsBuiltRecorded:
    return AsBuiltRecorded(record=record, values={}, measured_on=DAY, by="Sample engineer")


def test_a_choice_is_shown_by_the_records_of_its_parts_or_of_itself_and_no_other() -> None:
    catalog = load_catalog(DEMO)
    build = load_build(DEMO / "demo_builds" / "6_finished_pickup.yaml", catalog)
    spec = specify(catalog, build, Engines())
    required = required_records(spec, catalog.as_built)
    records = [made(name) for name in ("heater", "slow-speed-sound", "brake-roller", "isolation")]
    outdated = {("isolation", None)}
    verdicts = record_verdicts(required, records, spec, outdated)
    fits = {"heating": ("heater",), "pack": ("pack",)}
    told = evidence_of_choices(spec, fits, verdicts)
    assert {
        "heating": "Heater and its cut-out",
        "lighting": "Slow-speed sound",
    } == told
    numbered = spec.model_copy(
        update={
            "fitted": tuple(
                fitted.model_copy(update={"serial_number": f"S-{fitted.slot}"})
                for fitted in spec.fitted
            )
        }
    )
    told = evidence_of_choices(numbered, fits, verdicts)
    assert "S-heater; Heater and its cut-out" == told["heating"]
    assert "S-pack" == told["pack"], "what was measured of another battery is no evidence"
