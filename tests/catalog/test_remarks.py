from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from configurator.catalog.fault_codes import FAULT_CODES
from configurator.catalog.load import load_with_lines
from configurator.catalog.remarks import remarks_on_catalog
from configurator.catalog.remarks_on_sources import PILOT_CURRENTS_A
from configurator.errors import Fault
from configurator.physics.control_pilot import GREATEST_CURRENT_A, LEAST_CURRENT_A
from tests.catalog.broken_copies import TINY, change, copy_of_tiny

UNUSED = """components:
  - id: spare-wheel
    kind: wheel
    label: Spare wheel
    maker: Invented Steel
    rating_kg: 540
    source: invented for tests
"""

BARRED = """rules:
  - id: no-box
    vehicles: [clover-van]
    when: {box: [slatted-box]}
    then_not: {livery: [buttermilk, nettle, sloe]}
    because: It is invented.
    source: invented for tests
"""


TODAY = date(2027, 1, 9)


def _remarks(catalog: Path) -> tuple[Fault, ...]:
    loaded = load_with_lines(catalog)
    return remarks_on_catalog(loaded.catalog, loaded.line_of, TODAY)


def test_the_tiny_catalog_gives_no_cause_for_a_remark() -> None:
    assert not _remarks(TINY)


# file, what stands there, what is put there, code, file and line, words
CASES = [
    ("texts/after/wheels.md", "{tyre: [round-tyre], wheel: [],", "{tyre: [round-tyre],", "W001"),
    ("texts/after/hot-wire.md", "[hot-wire]}", "[hot-wire]}\n  vehicles: []", "W002"),
    ("rules/works.yaml", "vehicles: [clover-van]", "vehicles: [clover-float]", "W003"),
    ("vehicles/clover-van.yaml", "title: invented for tests", "title: no source", "W004"),
    ("components/rolling.yaml", "components:\n", UNUSED, "W005"),
    ("groups/plug.yaml", "- id: quick-plug", "- id: quick-plug\n    vehicles: []", "W006"),
    (
        "groups/warmth.yaml",
        "'15.00'",
        "'0.00'\n    puts_in: [{what: Rug, mass_kg: 1, place: bench}]",
        "W007",
    ),
    ("limits.yaml", "near_percent: 3", "vehicles: []", "W008"),
    (
        "groups/springs.yaml",
        "summary: One leaf more.",
        "summary: One leaf more.\n    fits: {charger: slow-charger}",
        "W009",
    ),
    (
        "rules/looks.yaml",
        "rules:\n",
        BARRED,
        "W010",
    ),
    (
        "workshop.yaml",
        "talk:\n",
        "talk:\n  - {id: idle, label: Idle, introduction: Nothing.}\n",
        "W011",
    ),
    ("groups/warmth.yaml", "priced_on: 2026-01-10", "priced_on: 2026-01-08", "W012"),
    ("texts/after/wheels.md", "review_by: 2030-01-01", "review_by: 2027-01-08", "W013"),
    ("charging_sources.yaml", "current_a: 10", "current_a: 5", "W014"),
    (
        "components/rolling.yaml",
        "rolling_resistance: {value: 0.012, sigma_percent: 10, source: invented for tests}",
        "construction: radial",
        "W016",
    ),
]


@pytest.mark.parametrize("case", CASES, ids=[case[3] for case in CASES])
def test_what_was_probably_not_meant_is_remarked(
    tmp_path: Path, case: tuple[str, str, str, str]
) -> None:
    file, old, new, code = case
    catalog = copy_of_tiny(tmp_path)
    change(catalog, file, old, new)
    found = [remark for remark in _remarks(catalog) if remark.code == code]
    assert found
    assert all(remark.what and remark.remedy for remark in found)
    kinds = {
        "W001": "components/rolling.yaml:",
        "W002": file,
        "W009": "groups/plug.yaml:",
        "W010": "groups/box.yaml:",
    }
    wanted = kinds.get(code, "workshop" if code == "W011" else file)
    assert any(remark.where.startswith(wanted) for remark in found), found


def test_a_price_is_old_the_day_after_a_year_and_told_once_for_its_group(tmp_path: Path) -> None:
    catalog = load_with_lines(copy_of_tiny(tmp_path)).catalog

    def old_on(day: date) -> list[str]:
        return [remark.what for remark in remarks_on_catalog(catalog, today=day)]

    assert [] == old_on(date(2027, 1, 10))
    told = old_on(date(2027, 1, 11))
    assert len(catalog.groups) == len(told)
    assert (
        '2 prices of group "cells" are older than a year; that of "few-cells" is of 2026-01-10'
        in told
    )


def test_without_a_day_nothing_is_too_old(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    change(catalog, "groups/warmth.yaml", "priced_on: 2026-01-10", "priced_on: 2001-01-10")
    assert () == remarks_on_catalog(load_with_lines(catalog).catalog)


def test_every_remark_is_tried_here() -> None:
    of_records = {"W017", "W018"}  # in test_records.py
    assert {case[3] for case in CASES} | of_records == {
        code for code in FAULT_CODES if code.startswith("W")
    }


def test_a_remark_names_its_subject_where_lines_are_unknown(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    change(catalog, "limits.yaml", "near_percent: 3", "vehicles: []")
    (remark,) = remarks_on_catalog(load_with_lines(catalog).catalog)
    assert remark.where == "limit rear-wheels-laden"


def test_the_currents_of_a_pilot_are_those_that_physics_computes_with() -> None:
    assert (LEAST_CURRENT_A, GREATEST_CURRENT_A) == PILOT_CURRENTS_A
