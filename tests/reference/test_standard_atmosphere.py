"""Air density against the standard atmosphere."""

from __future__ import annotations

import pytest

from configurator.physics.air_density import air_density_kg_m3


# Source: ISO 2533, standard atmosphere: 1.2250, 1.1116, 1.0065 kg/m³, each at its own temperature.
@pytest.mark.parametrize(
    ("altitude_m", "temperature_c", "density"),
    [(0.0, 15.0, 1.2250), (1000.0, 8.5, 1.1116), (2000.0, 2.0, 1.0065)],
)
def test_the_standard_day_has_the_standard_density(
    altitude_m: float, temperature_c: float, density: float
) -> None:
    computed = air_density_kg_m3(temperature_c, altitude_m)
    assert density == pytest.approx(computed, abs=1e-4)


def test_dry_air_at_freezing_point_has_the_handbook_density() -> None:
    # Source: handbooks, dry air at 0 °C and 1013.25 hPa: 1.293 kg/m³.
    computed = air_density_kg_m3(0.0, 0.0)
    assert computed == pytest.approx(1.293, abs=1e-3)
