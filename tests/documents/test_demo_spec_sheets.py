"""Every demonstration build has a spec sheet of three pages, even with long texts and a day."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.documents.spec_sheet import spec_sheet_pdf
from tests.documents.read_pdf import read_pages

FOLDER = Path(__file__).parents[2] / "catalog"
MEASURED = Path(__file__).parents[1] / "catalogs" / "measured_pickup.yaml"
BUILDS = (*sorted((FOLDER / "demo_builds").glob("*.yaml")), MEASURED)
FULLEST = (MEASURED, *(path for path in BUILDS if path.stem == "4_quoted_van"))
"""The builds with most to tell; the thorough run looks at the others, too."""
DAY = {
    "town_km": 4, "country_km": 55, "climbed_m": 250, "descended_m": 250, "load_kg": 150,
    "temperature_c": 3,
}  # fmt: skip
CUSTOMER = {
    "name": "Maximiliana-Theodora van der Lange-Ohnezahl and Company, Builders of Sheds & Sons",
    "contact": "By letter, or by a note under the door of the third boat shed; never before noon. "
    * 2,
}
TALE = "A long tale of a vehicle that stood in a barn, was painted by hand, and lost its papers. "


@cache
def demo() -> Catalog:
    return load_catalog(FOLDER)


def with_long_texts_and_a_day(build: BuildInput) -> BuildInput:
    data = build.model_dump()
    data["day"] = DAY
    data["customer"] = CUSTOMER
    data["donor"]["description"] = TALE * 3
    return BuildInput.model_validate(data)


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=[] if path in FULLEST else pytest.mark.thorough, id=path.stem)
        for path in BUILDS
    ],
)
@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda build: build, marks=pytest.mark.thorough, id=""),
        pytest.param(with_long_texts_and_a_day, id="long"),
    ],
)
def test_the_sheet_of_a_demonstration_build_has_at_most_three_pages(
    path: Path, change: Callable[[BuildInput], BuildInput]
) -> None:
    spec = specify(demo(), change(load_build(path, demo())), Engines())
    assert len(read_pages(spec_sheet_pdf(spec))) <= 3
