"""The papers tell every stage of loading, each limit of an axle and each verdict in words."""

from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.documents.calculation_sheet import calculation_sheet_pdf
from configurator.documents.handover_pack.pack import handover_pack_pdf
from tests.documents.read_pdf import read_pages


@cache
def laden_spec() -> Spec:
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle="marnock-estuary",
        priced_on=date(2026, 11, 25),
        choices={"roof-extras": "roof-rack"},
        house_choices_for_the_rest=True,
    )
    return specify(load_catalog(Path("catalog")), build, Engines())


@cache
def words_of_pack() -> str:
    return words_of(handover_pack_pdf(laden_spec()))


def words_of_sheet() -> str:
    return words_of(calculation_sheet_pdf(laden_spec(), ()))


def words_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.text for page in read_pages(pdf)).split())


@pytest.mark.parametrize(
    "words", [words_of_pack, words_of_sheet], ids=["pack", "calculation-sheet"]
)
def test_pack_and_calculation_sheet_tell_every_stage_of_loading(
    words: Callable[[], str],
) -> None:
    said = words()
    loadings = laden_spec().weights.loadings
    assert "roof-load" in {loading.stage for loading in loadings}
    for loading in loadings:
        assert loading.label in said
        assert f"{loading.mass_kg:,.0f} ± {2 * loading.mass_sigma_kg:,.0f} kg" in said


def test_the_pack_tells_all_three_limits_of_each_axle_and_every_check() -> None:
    said = words_of_pack()
    weights = laden_spec().weights
    for axle in (weights.front, weights.rear):
        for limit in (axle.maker_limit_kg, axle.tyres_limit_kg, axle.wheels_limit_kg):
            assert limit is not None
            assert f"{limit:,.0f} kg" in said
    assert "no approval" in said
    assert "Where the masses are" in said
    assert {"Tipping over", "Load on the roof"} <= {check.label for check in weights.checks}
