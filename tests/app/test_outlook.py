from __future__ import annotations

import pytest

from configurator.app.view_models.outlook import (
    BOUNDS,
    Outlook,
    builds_words,
    default_figures,
    outlook_of,
)
from configurator.build_spec.pipeline import outline
from configurator.build_spec.spec import Spec
from configurator.rules.counting import Count
from tests.app.assessed import CATALOG, ENGINES, assessed


def completed(spec: Spec) -> Spec:
    build = spec.build.model_copy(update={"house_choices_for_the_rest": True})
    return outline(CATALOG, build, ENGINES)


def outlook(**choices: str) -> Outlook:
    spec = assessed(**choices).spec
    return outlook_of(spec, completed(spec), Count(12, is_exact=True))


def test_with_choices_open_the_figures_are_said_to_be_from_to():
    assert BOUNDS == outlook().bounds
    assert "12 complete builds" in outlook().builds


def test_the_default_completion_has_one_price_and_its_week():
    figures = {figure.label: figure.value for figure in outlook().default}
    assert "–" not in figures["Price"]
    assert figures["Earliest finish"].startswith("week of ")
    spec = assessed().spec
    assert len(figures) == 3 + len(spec.workshop.headline_cases)


def test_a_complete_build_has_nothing_left_to_say():
    spec = completed(assessed().spec)
    assert Outlook("", "", ()) == outlook_of(spec, spec, Count(1, is_exact=True))


def test_choices_that_contradict_each_other_have_no_default_completion():
    found = outlook_of(assessed().spec, None, Count(0, is_exact=True))
    assert Outlook("", "No complete build is possible with these choices.", ()) == found


@pytest.mark.parametrize("value", [1, 999, 1_000_001, 7_654_321_987])
def test_an_upper_bound_is_never_said_smaller_than_it_is(value: int):
    words = builds_words(Count(value, is_exact=False)).split()
    size = {"million": 10**6, "billion": 10**9}.get(words[3], 1)
    assert float(words[2].replace(",", "")) * size >= value


def test_the_default_figures_are_those_of_the_completed_build():
    spec = completed(assessed().spec)
    assert f"{spec.weights.kerb_low_kg:,.0f} kg" == default_figures(spec)[-2].value
