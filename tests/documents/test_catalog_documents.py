"""Documents of builds that come from a catalog on disk by the whole pipeline."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.spec_sheet import spec_sheet_pdf
from tests.documents.read_pdf import flat_text, read_pages

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"


@pytest.fixture(scope="module")
def spec() -> Spec:
    catalog = load_catalog(TINY)
    build = BuildInput.model_validate({
        "reference": "B-0003", "customer": {"name": "Ada Example"},
        "vehicle": catalog.vehicles[0].id, "priced_on": date(2026, 11, 1),
        "house_choices_for_the_rest": True,
    })  # fmt: skip
    return specify(catalog, build, Engines())


def test_each_choice_of_a_computed_spec_finds_its_price_line(spec: Spec) -> None:
    printed = flat_text(read_pages(spec_sheet_pdf(spec)))
    assert spec.choices
    assert "none of its own" not in printed
    for choice in spec.choices:
        assert choice.option_label in printed


def test_the_pack_of_a_computed_spec_prints_its_texts(spec: Spec) -> None:
    printed = flat_text(read_pages(handover_pack_pdf(spec)))
    assert spec.texts
    for text in spec.texts:
        assert text.title in printed
    assert "{{" not in printed
