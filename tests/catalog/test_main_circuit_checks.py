"""Impossible data of the main circuit is told with code, place and remedy."""

from __future__ import annotations

from pathlib import Path

import pytest

from configurator.catalog.load import load_catalog
from configurator.errors import CatalogError
from tests.catalog.broken_copies import change, copy_of_tiny

POWER = "components/power.yaml"
PARTS = """
  - id: a-cable
    kind: traction_cable
    label: A cable
    maker: Invented Works
    area_mm2: 50
    rated_current_a: {value: 250, sigma_percent: 5, source: invented for tests}
    max_conductor_c: 150
    rated_voltage_v: 600
    source: invented for tests
  - id: a-fuse
    kind: main_fuse
    label: A fuse
    maker: Invented Works
    rated_current_a: 200
    rated_voltage_v: 500
    breaking_current_a: 20000
    source: invented for tests
  - id: a-contactor
    kind: main_contactor
    label: A contactor
    maker: Invented Works
    rated_current_a: 250
    peak_current_a: 500
    rated_voltage_v: 600
    source: invented for tests
  - id: an-inlet
    kind: dc_inlet
    label: An inlet
    maker: Invented Works
    max_power_kw: 50
    max_current_a: 125
    min_voltage_v: 50
    max_voltage_v: 500
    socket_label: K
    source: invented for tests
"""


def with_parts(folder: Path) -> Path:
    catalog = copy_of_tiny(folder)
    path = catalog / POWER
    path.write_text(path.read_text("utf-8").rstrip("\n") + PARTS, "utf-8")
    change(catalog, POWER, "    series: 24\n", "    series: 24\n    module_series: 12\n")
    return catalog


def test_parts_that_go_together_are_accepted(tmp_path: Path) -> None:
    catalog = load_catalog(with_parts(tmp_path))
    assert {"a-cable", "a-fuse", "a-contactor"} <= set(catalog.component_by_id)


@pytest.mark.parametrize(
    ("old", "new", "code", "said"),
    [
        ("module_series: 12", "module_series: 7", "C070", "does not divide its 24 cells"),
        ("min_voltage_v: 50\n    max_voltage_v: 500", "min_voltage_v: 500\n    max_voltage_v: 50",
         "C069", "each must be above the one before"),
        ("area_mm2: 50", "area_mm2: 5", "C070", "50 A for each mm²"),
        ("peak_current_a: 500", "peak_current_a: 25", "C070", "but 25 A at its peak"),
        ("breaking_current_a: 20000", "breaking_current_a: 150", "C070", "many times its rating"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told(tmp_path: Path, old: str, new: str, code: str, said: str) -> None:
    catalog = with_parts(tmp_path)
    change(catalog, POWER, old, new)
    with pytest.raises(CatalogError) as refusal:
        load_catalog(catalog)
    [fault] = refusal.value.faults
    assert code == fault.code
    assert said in fault.what
    assert fault.remedy


@pytest.mark.parametrize("value", ["-5", "0", "1e9", ".nan", "'many'"])
def test_an_impossible_number_never_gets_in(tmp_path: Path, value: str) -> None:
    catalog = with_parts(tmp_path)
    change(catalog, POWER, "breaking_current_a: 20000", f"breaking_current_a: {value}")
    with pytest.raises(CatalogError) as refusal:
        load_catalog(catalog)
    assert "breaking_current_a" in str(refusal.value)


def test_circuits_that_do_not_sum_to_the_load_are_told(tmp_path: Path) -> None:
    catalog = copy_of_tiny(tmp_path)
    file, load = "vehicles/clover-van.yaml", "base_low_voltage_load_w: 300\n"
    circuits = "low_voltage_circuits:\n  - {id: lamps, label: Lamps, load_w: 300}\n"
    change(catalog, file, load, load + circuits)
    assert load_catalog(catalog).vehicle_by_id["clover-van"].low_voltage_circuits
    change(catalog, file, "load_w: 300}", "load_w: 200}")
    with pytest.raises(CatalogError) as refusal:
        load_catalog(catalog)
    [fault] = refusal.value.faults
    assert "C075" == fault.code
    assert "200 W together; base_low_voltage_load_w is 300" in fault.what
