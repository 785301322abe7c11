"""Whatever is plausible by itself gives finite numbers, or a fault that says what is wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Fact, RangeLine
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.day import CustomersDay
from configurator.catalog.plausible import plausible_at
from configurator.errors import ConfiguratorError
from tests.build_spec.tiny_builds import build_of, changed, tiny_catalog

CATALOG = tiny_catalog()
FLOAT = CATALOG.vehicles[0]
DAY = CustomersDay(town_km=10, motorway_km=5, climbed_m=200, descended_m=200, temperature_c=-5)


def altered(thing: BaseModel) -> Iterator[tuple[str, BaseModel]]:
    """Yield copies with one number at either end of what it can be."""
    written = thing.model_dump()
    for name in type(thing).model_fields:
        told = plausible_at(written, (name,))
        value = getattr(thing, name)
        for end in (told.least, told.greatest) if told is not None else ():
            if isinstance(value, UncertainValue):
                new: Any = value.model_copy(update={"value": end})
            elif isinstance(value, float | int):
                new = end
            else:
                continue
            yield f"{name}={end:g}", thing.model_copy(update={name: new})


def catalogs() -> Iterator[tuple[str, Catalog]]:
    for mark, vehicle in altered(FLOAT):
        yield f"vehicle {mark}", changed(CATALOG, mark, vehicles=(vehicle,))
    for number, part in enumerate(CATALOG.components):
        for mark, other in altered(part):
            parts = (*CATALOG.components[:number], other, *CATALOG.components[number + 1 :])
            yield f"{part.id} {mark}", changed(CATALOG, part.id + mark, components=parts)


def numbers_in(value: object) -> Iterator[float]:
    if isinstance(value, float):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from numbers_in(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from numbers_in(inner)


def told_of(catalog: Catalog, build: BuildInput) -> list[float | str]:
    """Specify a build; gives every number of the spec, or else what is wrong in words."""
    try:
        spec = specify(catalog, build, Engines())
    except ConfiguratorError as error:
        return [f"{fault.what} {fault.remedy}" for fault in error.faults]
    return list(numbers_in(spec.model_dump()))


@pytest.mark.parametrize(
    ("mark", "catalog"), [pytest.param(*pair, id=pair[0]) for pair in catalogs()]
)
def test_an_end_of_what_can_be_gives_finite_numbers_or_a_fault(mark: str, catalog: Catalog) -> None:
    del mark
    build = build_of(FLOAT.id).model_copy(update={"day": DAY, "house_choices_for_the_rest": True})
    told = told_of(catalog, build)
    assert told
    assert all(math.isfinite(number) for number in told if isinstance(number, float))


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_nothing_that_people_are_told_holds_a_number_without_end(number: float) -> None:
    for make in (
        lambda: Fact(
            name="range_low_km", case=None, label="Range", unit="km", low=number, high=1.0
        ),
        lambda: RangeLine(
            case_id="x",
            label="x",
            conditions="x",
            temperature_c=20.0,
            low_km=1.0,
            high_km=number,
            mid_km=None,
            consumption_wh_per_km=None,
        ),
        lambda: StatedInput(id="x", label="x", value=number, unit="m", source="x"),
    ):
        with pytest.raises(ValidationError, match="finite"):
            make()
