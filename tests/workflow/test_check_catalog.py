from datetime import date
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.workflow.check_catalog import check_catalog


def add_rule(folder: Path, rule: str) -> None:
    (folder / "rules" / "added.yaml").write_text(f"rules:\n{rule}")


def add_limit(folder: Path, label: str, vehicles: str, at_most_kg: float) -> None:
    with (folder / "limits.yaml").open("a") as file:
        file.write(
            "  - id: light-enough\n"
            f"    label: {label}\n"
            f"    vehicles: {vehicles}\n"
            "    limit: kerb_mass_kg\n"
            f"    at_most: {at_most_kg}\n"
            "    because: It must float.\n"
            "    source: invented for tests\n"
        )


def test_a_good_catalog_has_no_faults_and_is_counted(catalog_folder: Path) -> None:
    report = check_catalog(catalog_folder)
    assert ((), ()) == (report.faults, report.warnings)
    assert (2, 6) == (report.counts["vehicles"], report.counts["option groups"])


def test_faults_of_the_files_are_all_told(catalog_folder: Path) -> None:
    (catalog_folder / "stages.yaml").write_text("stages: 7\n")
    (catalog_folder / "limits.yaml").unlink()
    report = check_catalog(catalog_folder)
    assert {"stages.yaml", "limits.yaml"} <= {
        fault.where.partition(":")[0] for fault in report.faults
    }
    assert {} == report.counts


def test_a_missing_folder_is_a_fault(tmp_path: Path) -> None:
    assert check_catalog(tmp_path / "nowhere").faults


def test_an_option_that_no_build_can_have_is_a_warning_with_its_line(
    catalog_folder: Path,
) -> None:
    catalog = load_catalog(catalog_folder)
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A"),
        vehicle="clover-van",
        priced_on=date(2026, 3, 4),
        choices={"cells": "many-cells"},
    )
    lightest_kg = specify(catalog, build, Engines()).weights.kerb_low_kg
    add_limit(catalog_folder, "Weight with many cells", "[clover-van]", lightest_kg - 1)
    report = check_catalog(catalog_folder)
    found = {warning.where: warning for warning in report.warnings if warning.code == "P021"}
    assert () == report.faults
    many_cells = next(w for where, w in found.items() if where.startswith("groups/cells.yaml:"))
    assert "no complete build of Clover van can have" in many_cells.what
    assert "It must float" in many_cells.what


def test_a_vehicle_without_any_build_is_a_fault_with_the_rules_that_forbid(
    catalog_folder: Path,
) -> None:
    add_limit(catalog_folder, "Weight of nothing", "[clover-van, clover-float]", 1)
    report = check_catalog(catalog_folder)
    found = [fault for fault in report.faults if fault.code == "P020"]
    assert 2 == len(found)
    assert found[0].where.startswith("vehicles/clover-")
    assert "It must float" in found[0].what


def test_house_choices_that_do_not_go_together_are_a_warning(catalog_folder: Path) -> None:
    add_rule(
        catalog_folder,
        "  - id: scarf-clashes\n"
        "    when: {warmth: [scarf]}\n"
        "    then_not: {livery: [buttermilk]}\n"
        "    because: The scarf shows on pale paint.\n"
        "    source: invented for tests\n",
    )
    report = check_catalog(catalog_folder)
    house = {"warmth": "scarf", "livery": "buttermilk"}
    text = "".join((catalog_folder / "groups" / f"{g}.yaml").read_text() for g in house)
    assert all(f"house_choice: {option}" in text for option in house.values())
    found = [warning for warning in report.warnings if warning.code == "P022"]
    assert 2 == len(found)
    assert "The scarf shows on pale paint" in found[0].what
