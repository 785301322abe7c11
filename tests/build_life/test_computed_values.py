"""Every name that a record's bound may use is computed, or is told as not computed."""

from __future__ import annotations

import math
from pathlib import Path
from typing import get_args

from configurator.build_life.computed_values import computed_value
from configurator.build_life.tolerances import figure
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.catalog.models.as_built import COMPUTED_UNITS, ComputedName

DEMO = Path(__file__).parents[2] / "catalog"
MEASURED = Path(__file__).parents[1] / "catalogs" / "measured_pickup.yaml"


def test_every_name_has_a_unit_and_a_value_for_a_finished_demo_build() -> None:
    catalog = load_catalog(DEMO)
    build = load_build(MEASURED, catalog)
    spec = specify(catalog, build, Engines())
    names = get_args(ComputedName)
    assert set(names) == set(COMPUTED_UNITS)
    values = {name: computed_value(spec, name) for name in names}
    assert all(value is not None and math.isfinite(value) for value in values.values()), values
    # Source: UN Regulation No. 100, 5.1.3: 500 ohms for each volt, here in kilohms.
    assert values["isolation-kohm"] == 0.5 * (values["full-voltage-v"] or 0)


def test_figures_keep_the_digits_that_were_read() -> None:
    assert "0.018 Ω" == figure(0.018, "Ω")
    assert "-4.5 °C" == figure(-4.5, "°C")


def test_an_axle_is_weighed_against_the_band_it_was_computed_with() -> None:
    catalog = load_catalog(DEMO)
    spec = specify(catalog, load_build(MEASURED, catalog), Engines())
    axle = spec.weights.front
    assert axle.kerb_sigma_kg is not None
    least, told, most = (
        computed_value(spec, name)
        for name in ("kerb-front-axle-least-kg", "kerb-front-axle-kg", "kerb-front-axle-most-kg")
    )
    # Source: common practice, no source: a band is told by two standard deviations.
    assert round(axle.kerb_low_kg) == told
    assert round(axle.kerb_low_kg - 2 * axle.kerb_sigma_kg) == least
    assert round(axle.kerb_low_kg + 2 * axle.kerb_sigma_kg) == most
