"""Records of finished vehicles in a catalog: read with their bounds, told when they cannot be."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from configurator.catalog.load import faults_of_catalog, load_catalog, load_with_lines
from configurator.catalog.models.as_built import ComputedBound
from configurator.catalog.remarks import remarks_on_catalog
from tests.catalog.broken_copies import change, copy_of_tiny

FILE = "as_built.yaml"
DEMO = Path(__file__).parents[2] / "catalog"

RECORDS = """records:
  - id: battery
    label: Battery
    stage: build
    applies_if: {slots: {pack: []}}
    values:
      - {id: energy, label: Energy, unit: kWh, tells: pack-capacity-kwh, sigma_percent: 2,
         at_least: {of: pack-capacity-kwh, percent: 90}}
      - {id: warmth, label: Warmth, unit: °C, at_least: 10, at_most: 30}
    because: It is invented.
    source: invented for tests
  - id: tickets
    label: Tickets
    stage: give-back
    values:
      - {id: front, label: Front, unit: kg, tells: front-axle-kg, at_most: front-axle-limit-kg}
      - {id: rear, label: Rear, unit: kg, tells: rear-axle-kg}
      - {id: dry, label: The road is dry, kind: yes-no}
    needs_calibration: false
    because: It is invented.
    source: invented for tests
"""


def _with_records(folder: Path) -> Path:
    catalog = copy_of_tiny(folder)
    (catalog / FILE).write_text(RECORDS, encoding="utf-8")
    return catalog


def test_a_catalog_may_list_no_records(tmp_path: Path) -> None:
    assert () == load_catalog(copy_of_tiny(tmp_path)).as_built


def test_records_are_read_in_order_with_their_bounds(tmp_path: Path) -> None:
    battery, tickets = load_catalog(_with_records(tmp_path)).as_built
    energy, warmth = battery.values
    assert ComputedBound(of="pack-capacity-kwh", percent=90) == energy.at_least
    assert (10.0, 30.0) == (warmth.at_least, warmth.at_most)
    assert ComputedBound(of="front-axle-limit-kg") == tickets.values[0].at_most
    assert (True, False) == (battery.needs_calibration, tickets.needs_calibration)


# what stands there, what is put there, code, lines from there to the fault, words of the remedy
CASES = [
    ("because: It", "becuase: It", "C020", 0, 'Did you mean "because"?'),
    ("stage: build", "stage: bild", "C045", 0, 'Did you mean "build"?'),
    ("{pack: []}", "{pakc: []}", "C053", 0, 'Did you mean "pack"?'),
    ("{pack: []}", "{pack: [few-cell]}", "C044", 0, ""),
    ("slots: {pack: []}", "vehicles: [clover-can]", "C041", 0, 'mean "clover-van"?'),
    ("slots: {pack: []}", "choices: {warmht: [x]}", "C042", 0, 'Did you mean "warmth"?'),
    ("id: tickets", "id: battery", "C040", 0, "as_built.yaml:2"),
    ("id: rear,", "id: front,", "C040", 0, "another id"),
    ("id: tickets", "id: weighbridge", "C090", 0, "check-of-weighbridge"),
    ("id: tickets", "id: marks-of-belts", "C090", 0, "check-of-marks-of-belts"),
    ("unit: kg, tells: front", "unit: t, tells: front", "C091", 0, '"unit: kg"'),
    ("at_least: 10, at_most: 30", "at_least: 30, at_most: 10", "C092", 0, "order"),
    ("tells: rear-axle-kg", "tells: front-axle-kg", "C093", 0, "as_built.yaml:16"),
    ("kind: yes-no}", "kind: yes-no, at_least: 1}", "C030", 0, ""),
    ("unit: °C,", "unit: °C, sigma_percent: 1,", "C030", 0, ""),
    ("    needs_calibration: false", "    needs_instrument: false", "C030", -7, ""),
    ("tells: rear-axle-kg", "tells: rear-axl-kg", "C027", 0, "rear-axle-kg"),
]


@pytest.mark.parametrize("case", CASES, ids=[f"{case[2]}-{case[1][:20]}" for case in CASES])
def test_a_record_that_cannot_be_is_told_with_line_and_remedy(
    tmp_path: Path, case: tuple[str, str, str, int, str]
) -> None:
    old, new, code, offset, remedy = case
    catalog = _with_records(tmp_path)
    line = change(catalog, FILE, old, new)
    faults = faults_of_catalog(catalog)
    found = [fault for fault in faults if fault.code == code]
    assert f"{FILE}:{line + offset}" in [fault.where for fault in found], list(map(str, faults))
    assert any(remedy in fault.remedy for fault in found), [fault.remedy for fault in found]


def test_a_bound_that_nobody_computes_is_told(tmp_path: Path) -> None:
    catalog = _with_records(tmp_path)
    line = change(catalog, FILE, "at_most: front-axle-limit-kg", "at_most: front-axle-limt-kg")
    (fault,) = faults_of_catalog(catalog)
    assert f"{FILE}:{line}" == fault.where
    assert "front-axle-limit-kg" in fault.remedy


def test_parts_that_no_record_tests_and_foreign_records_are_remarked(tmp_path: Path) -> None:
    catalog = _with_records(tmp_path)
    change(catalog, FILE, "    stage: give-back", "    country: Elsewhere\n    stage: give-back")
    loaded = load_with_lines(catalog)
    remarks = remarks_on_catalog(loaded.catalog, loaded.line_of)
    assert {"W017", "W018"} == {remark.code for remark in remarks}
    untested = [remark.what for remark in remarks if remark.code == "W017"]
    assert any('tyre "round-tyre"' in what for what in untested)
    assert not any("pack" in what for what in untested)


def test_the_demo_has_a_record_for_every_part_that_may_be_fitted() -> None:
    loaded = load_with_lines(DEMO)
    codes = {fault.code for fault in remarks_on_catalog(loaded.catalog, today=date(2026, 11, 1))}
    assert not {"W017", "W018"} & codes
