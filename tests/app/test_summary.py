from __future__ import annotations

from decimal import Decimal

import pytest

from configurator.app.view_models.summary import (
    Figure,
    Summary,
    finding_lines,
    price_figure,
    summary_of,
)
from configurator.build_spec.pipeline import price_alone
from configurator.build_spec.spec import Finding
from configurator.build_spec.weights_result import WeightCheck
from tests.app.assessed import CATALOG, ENGINES, assessed

ALL = {
    "cells": "many-cells", "springs": "stiff-springs", "warmth": "scarf",
    "box": "bare-bed", "livery": "nettle",
}  # fmt: skip


def summary(**choices: str) -> Summary:
    return summary_of(assessed(**choices).spec)


def with_margin(low: float, high: float) -> Summary:
    spec = assessed(**ALL).spec
    facts = tuple(
        fact.model_copy(update={"low": low, "high": high})
        if fact.name == "rear_axle_margin_kg"
        else fact
        for fact in spec.facts
    )
    unjudged = spec.weights.model_copy(update={"checks": ()})
    return summary_of(spec.model_copy(update={"facts": facts, "weights": unjudged}))


def price_told(**choices: str) -> Figure:
    found = assessed(**choices)
    price = price_alone(CATALOG, found.spec.build, ENGINES)
    return price_figure(price, sum(group.origin is None for group in found.groups))


def test_open_choices_make_the_price_a_from_to():
    seen = price_told()
    assert "–" in seen.value
    assert "5 choices still open" in seen.note
    assert not summary().is_settled


def test_a_complete_build_has_one_price_to_the_penny():
    spec = assessed(**ALL).spec
    price = Decimal(price_told(**ALL).value.replace("£", "").replace(",", ""))
    assert price == spec.price.total_low_gbp == spec.price.total_high_gbp
    assert () == summary_of(spec).open_choices


@pytest.mark.parametrize("choices", [{}, {"cells": "few-cells"}, ALL])
def test_the_price_told_first_is_that_of_the_spec(choices: dict[str, str]):
    spec = assessed(**choices).spec
    price = price_alone(CATALOG, spec.build, ENGINES)
    assert (spec.price.total_low_gbp, spec.price.total_high_gbp, spec.price.vat_percent) == (
        price.low_gbp,
        price.high_gbp,
        price.vat_percent,
    )


def test_range_stays_a_band_even_when_everything_is_chosen():
    for figure in summary(**ALL).ranges:
        assert "–" in figure.value


def test_only_the_headline_cases_are_shown_in_their_order():
    spec = assessed().spec
    labels = {line.case_id: line.label for line in spec.ranges}
    expected = [labels[case_id] for case_id in spec.workshop.headline_cases]
    assert [figure.label for figure in summary_of(spec).ranges] == expected


def test_each_open_choice_names_the_stage_that_closes_it():
    spec = assessed().spec
    for shown, group in zip(summary_of(spec).open_choices, spec.open_groups, strict=True):
        assert shown.label == group.group_label
        assert group.closes_at in shown.until


@pytest.mark.parametrize(
    ("low", "high", "state", "is_within"),
    [
        (0.0, 120.0, "within its limit", True),
        (-20.0, 120.0, "depends on open choices", False),
        (-40.0, -20.0, "over its limit", False),
    ],
)
def test_an_axle_says_how_it_stands_against_its_limit(
    low: float, high: float, state: str, is_within: bool
):
    seen = with_margin(low, high)
    rear = seen.axles[1]
    assert (rear.state, rear.is_within) == (state, is_within)
    assert 0 <= rear.low_percent <= rear.high_percent <= 100
    assert ("rear axle" in seen.axles_in_brief.value) is not is_within


@pytest.mark.parametrize(
    ("verdict", "state"),
    [
        ("kept", "within its limit"),
        ("may be beyond", "may be over its limit"),
        ("beyond", "over its limit"),
    ],
)
def test_the_bar_of_an_axle_takes_the_verdict_of_its_check(verdict: str, state: str):
    spec = assessed(**ALL).spec
    check = WeightCheck.model_validate(
        {
            "limit_id": "rear", "label": "Rear", "fact": "rear_axle_margin_kg", "value": 5.0,
            "sigma": 10.0, "bound": 0.0, "bound_is": "at least", "verdict": verdict,
            "severity": "blocks", "is_weighed": False, "because": "Must.", "source": "tests",
        }
    )  # fmt: skip
    weights = spec.weights.model_copy(update={"checks": (check,)})
    rear = summary_of(spec.model_copy(update={"weights": weights})).axles[1]
    assert (state, verdict == "kept") == (rear.state, rear.is_within)
    assert "±" in rear.load
    assert "laden_rear_axle_kg" == rear.worked_out[0]


def test_a_weighed_vehicle_shows_what_was_weighed():
    spec = assessed(**ALL).spec
    weights = spec.weights.model_copy(update={"measured_kerb_kg": 1003.0})
    kerb = summary_of(spec.model_copy(update={"weights": weights})).kerb
    assert (kerb.value, kerb.note) == ("1,003 kg", "as weighed")


def test_the_gravest_findings_come_first():
    findings = [
        Finding(code="X", severity=severity, subject="x", sentence=severity, source="x", remedy="")
        for severity in ("notes", "blocks", "warns")
    ]
    assert [line.severity for line in finding_lines(findings)] == ["blocks", "warns", "notes"]
