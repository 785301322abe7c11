"""Which records a vehicle needs follows from what is fitted and from the country."""

from __future__ import annotations

from pathlib import Path

import pytest

from configurator.build_life.required_records import required_records
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog

DEMO = Path(__file__).parents[2] / "catalog"
FINISHED = DEMO / "demo_builds" / "6_finished_pickup.yaml"


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog(DEMO)


@pytest.fixture(scope="module")
def spec(catalog: Catalog) -> Spec:
    return specify(catalog, load_build(FINISHED, catalog), Engines())


def asked(spec: Spec, catalog: Catalog) -> set[str]:
    return {record.id for record in required_records(spec, catalog.as_built)}


def test_what_the_law_of_a_country_wants_is_asked_for_there_alone(
    spec: Spec, catalog: Catalog
) -> None:
    abroad = spec.workshop.model_copy(update={"country": "Elsewhere"})
    elsewhere = asked(spec.model_copy(update={"workshop": abroad}), catalog)
    of_the_country = {record.id for record in catalog.as_built if record.country}
    assert of_the_country
    assert of_the_country == asked(spec, catalog) - elsewhere


def test_each_part_that_is_fitted_brings_its_record_and_takes_it_away(
    spec: Spec, catalog: Catalog
) -> None:
    for slot, record in (
        ("pack", "module-intake"),
        ("pack", "isolation"),
        ("pre_charge", "pre-charge"),
        ("charger", "inlet-isolation"),
        ("heater", "heater"),
    ):
        without = tuple(fitted for fitted in spec.fitted if fitted.slot != slot)
        assert record in asked(spec, catalog)
        assert record not in asked(spec.model_copy(update={"fitted": without}), catalog)
    assert "rapid-charging" not in asked(spec, catalog), "no such inlet is fitted"


def test_every_vehicle_is_weighed_tested_on_rollers_and_has_its_serial_numbers(
    spec: Spec, catalog: Catalog
) -> None:
    required = required_records(spec.model_copy(update={"fitted": ()}), catalog.as_built)
    assert {"weighed", "brake-roller"} <= {record.id for record in required}
    numbered = {record.slot for record in required_records(spec, catalog.as_built) if record.slot}
    assert {fitted.slot for fitted in spec.fitted} == numbered
