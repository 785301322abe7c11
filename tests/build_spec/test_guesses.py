"""A value that nobody knows is guessed wide: it widens the band, and says so."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.guesses import guess_pack
from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.remarks import remarks_on_catalog
from configurator.errors import CatalogError
from tests.build_spec.tiny_builds import TINY, build_of

FLOAT = "vehicles/clover-float.yaml"
POWER = "components/power.yaml"
ROLLING = "components/rolling.yaml"

CASES = {
    "drag_area_m2": (FLOAT, "drag_area_m2:.*", "body_type: open-utility"),
    "auxiliary_power_w": (FLOAT, "auxiliary_power_w:.*", "body_type: open-utility"),
    "cabin_heat_loss_w_per_k": (FLOAT, "cabin_heat_loss_w_per_k:.*", "body_type: open-utility"),
    "rolling_resistance": (ROLLING, "rolling_resistance:.*", "construction: radial"),
    "recovery_efficiency": (POWER, "recovery_efficiency:.*", "# left out"),
    "resistance_ohm": (POWER, "resistance_ohm:.*", "# left out"),
    "capacity_sigma_percent": (POWER, "capacity_sigma_percent:.*", "# left out"),
}
"""Field → file, the line that is taken out, the line that is put in its place."""


def catalog_without(field: str, folder: Path) -> Catalog:
    file, old, new = CASES[field]
    copied = folder / "catalog"
    shutil.copytree(TINY, copied)
    text = (copied / file).read_text("utf-8")
    changed, count = re.subn(old, new, text)
    assert count
    (copied / file).write_text(changed, "utf-8")
    return load_catalog(copied)


def spec_of(catalog: Catalog) -> Spec:
    build = build_of("clover-float", cells="many-cells", warmth="hot-wire")
    build = build.model_copy(update={"house_choices_for_the_rest": True})
    return specify(catalog, build, Engines())


def width(spec: Spec, case_id: str) -> float:
    line = next(line for line in spec.ranges if line.case_id == case_id)
    return line.high_km / line.low_km


@pytest.mark.parametrize("field", CASES)
def test_a_missing_value_is_guessed_widens_the_band_and_says_so(field: str, tmp_path: Path) -> None:
    catalog = catalog_without(field, tmp_path)
    known, guessed = spec_of(load_catalog(TINY)), spec_of(catalog)
    assert guessed.is_complete
    assert width(guessed, "round-in-january") > width(known, "round-in-january")
    told = [finding for finding in guessed.findings if finding.code == "F026"]
    assert any(finding.subject.endswith(f".{field}") for finding in told)
    for finding in told:
        assert "guessed from" in finding.sentence
        assert "narrows it" in finding.remedy
        assert finding.source
    assert not [finding for finding in known.findings if finding.code == "F026"]
    remarks = [fault for fault in remarks_on_catalog(catalog) if fault.code == "W016"]
    assert any(field in fault.what for fault in remarks)


def test_a_drag_area_that_cannot_be_guessed_is_asked_for(tmp_path: Path) -> None:
    copied = tmp_path / "catalog"
    shutil.copytree(TINY, copied)
    text = (copied / FLOAT).read_text("utf-8")
    (copied / FLOAT).write_text(re.sub("drag_area_m2:.*\n", "", text), "utf-8")
    with pytest.raises(CatalogError, match=r'"body_type: …" to have it guessed'):
        load_catalog(copied)


# Source: from memory: a 50 Ah cell of 3.7 V has about 2 milliohms; joints a third more.
def test_a_guessed_resistance_is_that_of_cells_in_series_and_parallel() -> None:
    series, parallel = 96, 2
    cell_kwh, cell_v, cell_ohm = 0.185, 3.7, 0.002
    pack = {
        "chemistry": "NMC",
        "modules_are": "new",
        "capacity_kwh": series * parallel * cell_kwh,
        "nominal_voltage_v": series * cell_v,
    }
    expected = 1.33 * series / parallel * cell_ohm
    assert expected == pytest.approx(guess_pack(pack)["resistance_ohm"], rel=0.3)


def test_a_guess_comes_back_from_a_stored_spec_as_it_was(tmp_path: Path) -> None:
    spec = spec_of(catalog_without("resistance_ohm", tmp_path))
    again = Spec.model_validate_json(spec.canonical_json())
    assert spec == again
