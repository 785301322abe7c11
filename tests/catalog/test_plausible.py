"""What cannot be is named with what can, who says so, and what was meant."""

from __future__ import annotations

import math
from pathlib import Path
from types import UnionType
from typing import Any, get_args

import pytest
from pydantic import BaseModel, ValidationError

from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.catalog.models import build, component, day, vehicle, workshop
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.plausible import PLAUSIBLE, plausible_at, slip_of_the_point
from configurator.errors import BuildFileError, CatalogError, Fault
from tests.catalog.broken_copies import TINY, change, copy_of_tiny

FLOAT = "vehicles/clover-float.yaml"
POWER = "components/power.yaml"
ROLLING = "components/rolling.yaml"
CASES = "driving_cases.yaml"


def faults_of_catalog(catalog: Path) -> tuple[Fault, ...]:
    with pytest.raises(CatalogError) as caught:
        load_catalog(catalog)
    return tuple(caught.value.faults)


IMPOSSIBLE = [
    (ROLLING, "value: 0.012", "value: 0.13", "0.006 to 0.03", "Write 0.013 if that was meant."),
    (POWER, "capacity_kwh: 12", "capacity_kwh: 400", "1 to 200 kWh", "Write 40 if that was meant."),
    (POWER, "capacity_kwh: 12", "capacity_kwh: 12000", "1 to 200 kWh", "Write 12."),
    (FLOAT, "wheelbase_m: 2.1", "wheelbase_m: 2100", "1.2 to 5 m", "Write 2.1."),
    (FLOAT, "{value: 1.5,", "{value: 150,", "0.3 to 6 m²", "Write 1.5 if that was meant."),
    (POWER, "value: 0.88", "value: 8.8", "0.5 to 0.99", "Write 0.88 if that was meant."),
    (POWER, "value: 0.88", "value: 88", "0.5 to 0.99", "Write 0.88."),
    (POWER, "{-10: 0.98, 20: 0.98}", "{-10: 98, 20: 0.98}", "0.3 to 8", "Write 0.98 if that"),
    (CASES, "temperature_c: -5", "temperature_c: 268", "-30 to 45 °C", "Write -5.15."),
    (CASES, "steady_km_h: 40", "steady_km_h: 4000", "5 to 150 km/h", "Write 40 if that was meant."),
    (FLOAT, "mass_sigma_kg: 20", "mass_sigma_kg: 2000", "1 to 300 kg", "Write 2."),
]


@pytest.mark.parametrize("case", IMPOSSIBLE, ids=[f"{case[2][:30]}" for case in IMPOSSIBLE])
def test_what_cannot_be_is_told_with_what_can_its_source_and_what_was_meant(
    tmp_path: Path, case: tuple[str, str, str, str, str]
) -> None:
    file, old, new, bounds, remedy = case
    catalog = copy_of_tiny(tmp_path)
    line = change(catalog, file, old, new)
    told = [fault for fault in faults_of_catalog(catalog) if bounds in fault.what]
    assert told, [str(fault) for fault in faults_of_catalog(catalog)]
    assert f"{file}:{line}" == told[0].where
    assert told[0].what.count("(") >= 1
    assert remedy in told[0].remedy


def test_every_range_has_a_source_and_is_one() -> None:
    for name, plausible in PLAUSIBLE.items():
        assert plausible.least < plausible.greatest, name
        assert plausible.source, name
        assert plausible.of, name


def _bounds(annotation: Any, metadata: list[Any]) -> dict[str, float]:
    found: dict[str, float] = {}
    parts = [*metadata, *getattr(annotation, "__metadata__", ())]
    if isinstance(annotation, UnionType) or getattr(annotation, "__args__", None):
        for inner in get_args(annotation):
            found |= _bounds(inner, [])
    for part in parts:
        for bound in (part, *getattr(part, "metadata", ())):
            for side in ("ge", "le", "gt", "lt"):
                if hasattr(bound, side):
                    found[side[0]] = getattr(bound, side)
    return found


MODELS = [
    model
    for module in (component, vehicle, workshop, build, day)
    for model in vars(module).values()
    if isinstance(model, type)
    and issubclass(model, BaseModel)
    and model.__module__ == module.__name__
]


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_the_range_that_is_told_is_the_bound_of_the_model(model: type[BaseModel]) -> None:
    kinds = get_args(model.model_fields["kind"].annotation) if "kind" in model.model_fields else ()
    entry = {"kind": next(iter(kinds), "")}
    inside = {"Trailer": ("trailer",), "Effects": ("effects",)}.get(model.__name__, ())
    for name, field in model.model_fields.items():
        told = plausible_at(entry, (*inside, name))
        bounds = _bounds(field.annotation, field.metadata)
        if told is not None and bounds and field.annotation is not UncertainValue:
            assert {"g": told.least, "l": told.greatest} == bounds, name


@pytest.mark.parametrize("number", [".nan", ".inf", "-.inf"])
@pytest.mark.parametrize(
    ("file", "old"),
    [
        (FLOAT, "wheelbase_m: 2.1"),
        (POWER, "capacity_kwh: 12"),
        (POWER, "value: 0.88"),
        (CASES, "temperature_c: 20"),
    ],
)
def test_a_number_without_end_never_gets_into_a_catalog(
    tmp_path: Path, number: str, file: str, old: str
) -> None:
    catalog = copy_of_tiny(tmp_path)
    key = old.partition(":")[0]
    line = change(catalog, file, old, f"{key}: {number}")
    with pytest.raises(CatalogError) as caught:
        load_catalog(catalog)
    assert f"{file}:{line}" in {fault.where for fault in caught.value.faults}


@pytest.mark.parametrize("number", [".nan", ".inf", "-.inf", "1e999"])
@pytest.mark.parametrize(
    "entry",
    [
        "donor: {front_axle_kg: X, rear_axle_kg: 400}",
        "day: {town_km: X}",
        "day: {town_km: 5, trailer: {mass_kg: X}}",
        "wishes: [{fact: price_gbp, at_most: X}]",
        "as_built: {pack_capacity_kwh: X}",
    ],
)
def test_a_number_without_end_never_gets_into_a_build(
    tmp_path: Path, number: str, entry: str
) -> None:
    file = tmp_path / "build.yaml"
    head = (
        "reference: B-0001\ncustomer: {name: Ann}\nvehicle: clover-float\npriced_on: 2026-02-01\n"
    )
    file.write_text(head + entry.replace("X", number) + "\n", encoding="utf-8")
    with pytest.raises(BuildFileError) as caught:
        load_build(file, load_catalog(TINY))
    assert {"build.yaml:5"} == {fault.where for fault in caught.value.faults}


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ("donor: {front_axle_kg: 4, rear_axle_kg: 400}", "100 to 5000 kg"),
        ("day: {town_km: 5, temperature_c: 293}", "Write 19.85."),
        ("day: {town_km: 5, charging_source: bam-socket}", "barn-socket"),
        ("day: {towm_km: 5}", 'Did you mean "town_km"?'),
        ("day: {}", "needs a distance"),
        ("day: 12", "mapping"),
    ],
)
def test_what_a_build_file_says_wrongly_is_told_with_line_and_remedy(
    tmp_path: Path, entry: str, words: str
) -> None:
    file = tmp_path / "build.yaml"
    head = (
        "reference: B-0001\ncustomer: {name: Ann}\nvehicle: clover-float\npriced_on: 2026-02-01\n"
    )
    file.write_text(f"{head}{entry}\n", encoding="utf-8")
    with pytest.raises(BuildFileError) as caught:
        load_build(file, load_catalog(TINY))
    assert words in str(caught.value)
    assert {"build.yaml:5"} == {fault.where for fault in caught.value.faults}


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_no_model_takes_a_number_without_end(number: float) -> None:
    with pytest.raises(ValidationError):
        UncertainValue(value=number, sigma_percent=1, source="invented")
    with pytest.raises(ValidationError):
        UncertainValue(value=1, sigma_percent=number, source="invented")


def test_a_point_that_slipped_is_put_right_only_into_what_can_be() -> None:
    for plausible in PLAUSIBLE.values():
        for value in (plausible.least * 10, plausible.greatest * 10, 0.0, -7.0):
            moved = slip_of_the_point(value, plausible)
            assert moved is None or plausible.holds(moved)
