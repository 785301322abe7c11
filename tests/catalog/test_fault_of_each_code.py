from __future__ import annotations

import re
from pathlib import Path

import pytest

from configurator.catalog.fault_codes import FAULT_CODES
from configurator.catalog.load import faults_of_catalog
from tests.catalog.broken_copies import change, copy_of_tiny

FLOAT = "vehicles/clover-float.yaml"
VAN = "vehicles/clover-van.yaml"
POWER = "components/power.yaml"
ROLLING = "components/rolling.yaml"
RULES = "rules/works.yaml"

# file, what stands there, what is put there, code, lines from there to the fault (None: the
# reader of YAML says where), words of the remedy
CASES = [
    ("stages.yaml", "stages:\n", "stages: {a: [\n", "C007", None, "indentation"),
    ("stages.yaml", "  - {id: begin", "\t- {id: begin", "C008", 0, "spaces"),
    (FLOAT, "year: 1961", "year: 1961\nyear: 1962", "C009", 1, "first is on line 3"),
    (FLOAT, "label: Clover float", "label: &name Clover float", "C010", 0, "Write the value"),
    (FLOAT, "label: Clover float", "label: !!str Clover float", "C010", 0, "Write the value"),
    (FLOAT, "tow_eye: nose", f"tow_eye: {'[' * 40}{']' * 40}", "C011", 0, "bracket"),
    ("workshop.yaml", "country: Invented Shire", "country: no", "C012", 0, 'Write "no"'),
    (FLOAT, "year: 1961", "year: 01961", "C012", 0, 'Write "01961"'),
    ("workshop.yaml", "valid_from: 2020-01-01", "valid_from: 2020-02-31", "C012", 0, "quotes"),
    ("stages.yaml", "stages:\n", "stages: nothing\nother:\n", "C013", 0, "hyphen"),
    (FLOAT, "fits:\n  motor: hum-30", "fits:\n  - hum-30", "C007", None, "indentation"),
    ("groups/box.yaml", "look: {roof_shape: folding}", "look: [folding]", "C013", 0, "a mapping"),
    (FLOAT, "label: Clover float", 'label: "Clover\\a"', "C014", 0, "type it again"),
    ("texts/read-me-first.md", "---\nid", "id", "C015", 0, '"---"'),
    (FLOAT, "wheelbase_m:", "wheel_base_m:", "C020", 0, 'Did you mean "wheelbase_m"?'),
    (FLOAT, "wheelbase_m:", "wheel_base_m:", "C021", -6, '"wheelbase_m: …"'),
    (POWER, "    kind: pack\n", "", "C021", -1, "kind"),
    (FLOAT, "year: 1961", "year: long ago", "C022", 0, "a whole number"),
    (FLOAT, "year: 1961", "year: true", "C022", 0, "Write a number"),
    (FLOAT, "label: Clover float", "label: 7", "C022", 0, '"7"'),
    (FLOAT, "label: Clover float", "label: 2024-01-01", "C022", 0, '"2024-01-01"'),
    ("groups/box.yaml", "priced_on: 2026-01-10", "priced_on: 1767225600", "C022", 0, "2026-05-01"),
    (FLOAT, "mass_kg: 130", "mass_kg: -130", "C023", 0, "takes_out"),
    (FLOAT, "wheelbase_m: 2.1", "wheelbase_m: 2100", "C024", 0, "Write 2.1."),
    (FLOAT, "mass_kg: 12,", "mass_kg: 12000,", "C024", 0, "Write 12."),
    (POWER, "value: 0.88", "value: 88", "C024", 0, "Write 0.88."),
    (POWER, "usable_percent: 90", "usable_percent: 0.9", "C024", 0, "Write 90."),
    (ROLLING, "front_pressure_bar: 2.6", "front_pressure_bar: 36", "C024", 0, "Write 2.48"),
    (FLOAT, "id: clover-float", "id: Clover Float", "C025", 0, '"clover-float"'),
    (FLOAT, "label: Clover float", f"label: {'a' * 200}", "C026", 0, "at most 80"),
    (FLOAT, "label: Clover float", "label: ''", "C026", 0, "Fill it"),
    (FLOAT, "driven_axle: rear", "driven_axle: real", "C027", 0, 'Did you mean "rear"?'),
    (POWER, "kind: charger", "kind: changer", "C027", 0, 'Did you mean "charger"?'),
    (FLOAT, "parts_gbp: '6400.00'", "parts_gbp: 6400.5", "C028", 0, 'Write "6400.50"'),
    (FLOAT, "hours: '60'", "hours: '60.25'", "C028", 0, "decimal in quotes"),
    ("groups/livery.yaml", "'#f2e8c9'", "'cream'", "C029", 0, "#2f4a5c"),
    (RULES, "    then: {springs: [stiff-springs]}\n", "", "C030", -2, "Give what is missing"),
    ("limits.yaml", "at_most: 0", "at_least: 0\n    at_most: 0", "C030", -3, "take one"),
    (FLOAT, "[[-0.5, 1.9], [0.9, 2]]", "[[-0.5, 1.9]]", "C031", 0, "at least 2"),
    ("stages.yaml", "id: build", "id: begin", "C040", 0, "stages.yaml:2"),
    ("groups/box.yaml", "id: cold-box", "id: bare-bed", "C040", 0, "groups/box.yaml:9"),
    ("groups/plug.yaml", "[clover-van]", "[clover-can]", "C041", 0, 'mean "clover-van"?'),
    (RULES, "when: {warmth:", "when: {warmht:", "C042", 0, 'Did you mean "warmth"?'),
    (RULES, "[stiff-springs]", "[stif-springs]", "C043", 0, 'Did you mean "stiff-springs"?'),
    ("groups/box.yaml", "house_choice: bare-bed", "house_choice: bear-bed", "C043", 0, "bare-bed"),
    (FLOAT, "motor: hum-30", "motor: hum-40", "C044", 0, 'Did you mean "hum-30"?'),
    ("groups/box.yaml", "closes_at: begin", "closes_at: began", "C045", 0, "begin"),
    ("survey/van.yaml", "trade: sprayer", "trade: prayer", "C046", 0, "sprayer"),
    (FLOAT, "mass_kg: 250, place: bed}", "mass_kg: 250, place: bedd}", "C047", 0, "bed"),
    ("groups/cells.yaml", "110, place: under-bed", "110, place: underbed", "C047", 0, "under-bed"),
    ("limits.yaml", "case: round-in-june", "case: round-in-juni", "C048", 0, "round-in-june"),
    (
        "workshop.yaml",
        "overnight_source: barn-",
        "overnight_source: bran-",
        "C049",
        0,
        "barn-socket",
    ),
    (VAN, "survey_template: van-survey", "survey_template: van", "C050", 0, "van-survey"),
    ("groups/box.yaml", "part: looks", "part: look", "C051", 0, 'Did you mean "looks"?'),
    ("driving_cases.yaml", "wltc-class-1", "wltc-class-9", "C052", 0, "wltc-class-"),
    (FLOAT, "motor: hum-30", "engine: hum-30", "C053", 0, "motor"),
    ("texts/keep-out.md", "{pack: []", "{pak: []", "C053", 0, 'Did you mean "pack"?'),
    (FLOAT, "motor: hum-30", "motor: one-gear", "C060", 0, "hum-30"),
    (
        "groups/box.yaml",
        "house_choice: bare-bed",
        "house_choice: cold-box",
        "C061",
        0,
        "house_choice_on",
    ),
    ("stages.yaml", "'33.34'", "'33.33'", "C062", -3, "+0.01"),
    (
        "groups/plug.yaml",
        "- id: quick-plug",
        "- id: quick-plug\n    vehicles: [clover-float]",
        "C063",
        1,
        "Add",
    ),
    ("groups/cells.yaml", "    needed_by: build\n", "", "C064", -1, "needed_by"),
    (
        "limits.yaml",
        "vehicle.rear_axle_limit_kg",
        "vehicle.rear_axle_limit",
        "C065",
        0,
        "rear_axle_limit_kg",
    ),
    ("limits.yaml", "at_most: vehicle.front", "at_most: front", "C065", 0, "vehicle.front"),
    ("limits.yaml", "    case: round-in-june\n", "", "C066", -1, 'Add "case:"'),
    ("limits.yaml", "at_most: 0", "case: lane\n    at_most: 0", "C066", 0, "out"),
    (
        RULES,
        "then_not: {cells: [few-cells]}",
        "then_not: {warmth: [hot-wire]}",
        "C067",
        0,
        "Correct",
    ),
    (POWER, "empty_voltage_v: 65", "empty_voltage_v: 85", "C069", 0, "volts"),
    (POWER, "continuous_power_kw: 14", "continuous_power_kw: 40", "C070", 0, "correct"),
    (POWER, "peak_torque_nm: 120", "peak_torque_nm: 12", "C070", -2, "torque"),
    (POWER, "ac_power_kw: 2.2", "ac_power_kw: 7", "C070", 0, "current"),
    (POWER, "{-10: 0.98, 20: 0.98}", "{-10: 2.5, 20: 3}", "C070", 0, "heat-pump"),
    (ROLLING, "value: 0.012", "value: 0.12", "C023", 0, "Write 0.012 if that was meant."),
    (FLOAT, "{value: 1.5,", "{value: 15,", "C023", 0, "Write 1.5 if that was meant."),
    (FLOAT, "{value: 1.5,", "{value: 5,", "C070", 0, "frontal area"),
    (POWER, "title: Capacity measured module by module", "title: no source", "C071", 0, "measured"),
    ("driving_cases.yaml", "    steady_km_h: 40\n", "", "C072", -2, "exactly one"),
    ("charging_sources.yaml", "to_percent: 100", "to_percent: 10", "C073", -1, "greater"),
    (
        "country_rules/shire.yaml",
        "valid_from: 2021-01-01",
        "valid_from: 2021-01-01\n    valid_until: 2020-01-01",
        "C073",
        1,
        "order",
    ),
    ("charging_sources.yaml", "phases: 1", "phases: 0", "C074", 0, "1 or 3 for ac"),
    (FLOAT, "rear_axle_limit_kg: 980", "rear_axle_limit_kg: 400", "C075", -2, "again"),
    (FLOAT, "gross_mass_limit_kg: 1700", "gross_mass_limit_kg: 850", "C075", 0, "again"),
    (FLOAT, "x_m: 1.7,", "x_m: 5.7,", "C075", 0, "behind the front axle"),
    (FLOAT, "length_m: 3.5", "length_m: 2.5", "C075", 0, "Measure"),
    ("workshop.yaml", "valid_from: 2000-01-01", "valid_from: 2020-01-01", "C077", 1, "Take one"),
    ("texts/read-me-first.md", "vehicle.label", "vehicle.lable", "C080", 0, "vehicle.label"),
    (
        "texts/after/charging.md",
        "fact:charging_hours:barn-socket",
        "fact:charging_hours",
        "C080",
        0,
        "charging_hours:",
    ),
    ("texts/keep-out.md", "pack.full_voltage_v", "pack.ful_voltage_v", "C080", 0, "full_voltage"),
    ("texts/after/wheels.md", "{{ tyre.front_pressure_bar }}", "{{ tyre.front", "C081", 0, "}}"),
    ("texts/read-me-first.md", "{{ vehicle.label }}", "{{ heater.label }}", "C082", 0, "heater"),
]


@pytest.mark.parametrize("case", CASES, ids=[f"{case[3]}-{case[2][:30]}" for case in CASES])
def test_a_broken_copy_is_told_with_code_line_and_remedy(
    tmp_path: Path, case: tuple[str, str, str, str, int | None, str]
) -> None:
    file, old, new, code, offset, remedy = case
    catalog = copy_of_tiny(tmp_path)
    changed_line = change(catalog, file, old, new)
    faults = faults_of_catalog(catalog)
    found = [fault for fault in faults if fault.code == code]
    assert found, [str(fault) for fault in faults]
    if offset is not None:
        told = [fault.where for fault in found]
        assert f"{file}:{changed_line + offset}" in told, [str(fault) for fault in faults]
    assert any(remedy in fault.remedy for fault in found), [fault.remedy for fault in found]


def test_the_tiny_catalog_itself_has_no_fault(tmp_path: Path) -> None:
    assert not faults_of_catalog(copy_of_tiny(tmp_path))


def test_a_folder_that_is_missing_is_told(tmp_path: Path) -> None:
    (fault,) = faults_of_catalog(tmp_path / "nowhere")
    assert fault.code == "C001"
    assert "Give the path" in fault.remedy


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "catalog").write_text("x", encoding="utf-8")
    assert "C001" in [fault.code for fault in faults_of_catalog(tmp_path / "catalog")]


def test_an_empty_folder_lacks_every_needed_file(tmp_path: Path) -> None:
    missing = [fault.where for fault in faults_of_catalog(tmp_path) if fault.code == "C002"]
    assert {"workshop.yaml", "stages.yaml", "limits.yaml"} < set(missing)
    assert "vehicles/*.yaml" in missing


def test_a_folder_in_the_place_of_a_file_is_told(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / "limits.yaml").unlink()
    (catalog / "limits.yaml").mkdir()
    assert ("C003", "limits.yaml:1") in [(f.code, f.where) for f in faults_of_catalog(catalog)]


def test_a_link_that_leads_nowhere_is_told(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / "limits.yaml").unlink()
    (catalog / "limits.yaml").symlink_to(tmp_path / "gone.yaml")
    assert "C003" in [fault.code for fault in faults_of_catalog(catalog)]


@pytest.mark.parametrize(
    ("content", "code", "line"),
    [
        (b"# " + b"x" * 2 * 1024 * 1024, "C004", 1),
        (b"limits: []\n# caf\xe9\n", "C005", 2),
        (b" \n\n", "C006", 1),
        (b"# nothing but a comment\n", "C006", 1),
        (b"---\nlimits: []\n---\nlimits: []\n", "C007", 3),
        (b"- id: first\n", "C013", 1),
        (b"just words\n", "C013", 1),
        (b"limits: []\nlimit: []\n", "C020", 2),
        (b"limit: []\n", "C021", 1),
    ],
)
def test_a_file_that_is_not_as_it_must_be_is_told(
    tmp_path: Path, content: bytes, code: str, line: int
) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / "limits.yaml").write_bytes(content)
    told = [(fault.code, fault.where) for fault in faults_of_catalog(catalog)]
    assert (code, f"limits.yaml:{line}") in told


@pytest.mark.parametrize("name", ["groups/roofs.yml", "group/roofs.yaml", "vehicle.yaml"])
def test_a_file_that_nobody_reads_is_told_with_a_better_place(tmp_path: Path, name: str) -> None:
    catalog = copy_of_tiny(tmp_path)
    (catalog / name).parent.mkdir(exist_ok=True)
    (catalog / name).write_text("id: roofs\n", encoding="utf-8")
    faults = faults_of_catalog(catalog)
    assert [("C016", name)] == [(fault.code, fault.where) for fault in faults]
    assert re.search(r"Name it|Did you mean", faults[0].remedy)


def test_a_chain_of_rules_that_comes_back_is_told_at_the_option(tmp_path: Path) -> None:
    chain = """
  - id: springs-want-a-scarf
    when: {springs: [stiff-springs]}
    then: {warmth: [scarf]}
    because: It is invented.
    source: invented for tests
  - id: scarf-wants-few
    when: {warmth: [scarf]}
    then: {cells: [few-cells]}
    because: It is invented.
    source: invented for tests
"""
    catalog = copy_of_tiny(tmp_path)
    with (catalog / "rules/works.yaml").open("a", encoding="utf-8") as rules:
        rules.write(chain)
    told = {fault.where: fault for fault in faults_of_catalog(catalog) if fault.code == "C068"}
    assert "groups/cells.yaml:21" in told
    assert "many-cells-want-springs" in told["groups/cells.yaml:21"].what


def test_every_code_of_a_catalog_fault_is_tried_here() -> None:
    source = Path(__file__).read_text(encoding="utf-8")
    of_records = {"C090", "C091", "C092", "C093"}  # in test_records.py
    elsewhere = {"C017"} | of_records
    codes = {code for code in FAULT_CODES if code.startswith("C")} - elsewhere
    assert not {code for code in codes if f'"{code}"' not in source}
