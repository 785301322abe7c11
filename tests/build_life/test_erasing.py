"""A name is taken out of what people typed, whatever it is; ids, values and the catalog stay."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from configurator.build_life.erasing import personal_words, without_person
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"
NAMES = (
    "Keep",
    "House",
    "Customer",
    "Front",
    "Green",
    "The",
    "A.*",
    "(Ann|Bob) [x]+",
    "\\d",
    "Al",
    "Ann",
    "Rose Green",
    "X" * 190,
    " ".join(["Ann"] * 45),
    "Zoë 🚗 O’Sample",
)


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog(TINY)


def build_for(name: str) -> BuildInput:
    said = f"As {name} said"
    told = f"{said}: {name}’s own word"
    return BuildInput.model_validate(
        {
            "reference": "B-0001",
            "customer": {"name": name, "contact": "by the door"},
            "vehicle": "clover-van",
            "priced_on": "2026-03-04",
            "donor": {"description": told, "identity_mark": said},
            "survey": [{"part": "rear-doors", "verdict": "repair", "origin": said, "note": told}],
            "discount": {"amount_gbp": "5.00", "reason": said},
            "house_choices_for_the_rest": True,
            "notes": told,
        }
    )


@pytest.mark.parametrize("name", NAMES)
def test_what_was_promised_still_reads_as_a_spec_without_the_name(
    catalog: Catalog, name: str
) -> None:
    spec = specify(catalog, build_for(name), Engines())
    words = personal_words(spec.build.model_dump(mode="json"))
    left = without_person(json.loads(spec.canonical_json()), words)
    after = Spec.model_validate(left)
    assert json.loads(after.canonical_json()) == left
    same = {"build", "survey", "price"}
    before = spec.model_dump(exclude=same)
    assert before == after.model_dump(exclude=same), "nothing of the catalog and nothing computed"
    assert [line.amount_gbp for line in spec.price.lines] == [
        line.amount_gbp for line in after.price.lines
    ]
    assert spec.build.choices == after.build.choices
    assert "As (removed) said" in after.survey[0].origin + after.survey[0].note
    assert f"As {name} said" not in after.canonical_json()


def test_a_part_of_the_name_is_taken_out_where_people_type() -> None:
    content: dict[str, Any] = {
        "customer": {"name": "Ann de Sample", "contact": ""},
        "donor": {"description": "Stood in Sample’s barn, samples of paint taken"},
    }
    left = without_person(content, personal_words(content))
    assert "Stood in (removed)’s barn, samples of paint taken" == left["donor"]["description"]
