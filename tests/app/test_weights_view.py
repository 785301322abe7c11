"""Figures of the weights page: signs, doubts and verdicts in words."""

from __future__ import annotations

from datetime import date

from configurator.app.view_models.weights import weights_page, why_no_weights
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.build_spec.weights_result import Compared, WeightCheck
from configurator.catalog.models.build import BuildInput, Customer
from tests.build_spec.tiny_builds import tiny_catalog


def complete() -> Spec:
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle="clover-van",
        priced_on=date(2026, 11, 25),
        house_choices_for_the_rest=True,
    )
    return specify(tiny_catalog(), build, Engines())


def with_checks(*checks: WeightCheck) -> Spec:
    spec = complete()
    return spec.model_copy(update={"weights": spec.weights.model_copy(update={"checks": checks})})


CHECK = WeightCheck(
    limit_id="front",
    label="Front <axle>",
    fact="front_axle_margin_kg",
    value=-3.4,
    sigma=10.0,
    bound=0.0,
    bound_is="at least",
    verdict="beyond",
    severity="blocks",
    is_weighed=False,
    because="It must hold.",
    source="for tests",
)


def test_a_check_is_told_with_two_sigma_and_its_verdict() -> None:
    near = CHECK.model_copy(update={"value": 5.0, "verdict": "may be beyond"})
    page = weights_page(with_checks(CHECK, near))
    first, second = page.checks
    assert ("−3 ±\xa020\xa0kg", "at least 0\xa0kg") == (first.value, first.bound)
    assert "Beyond the limit: 3\xa0kg too little" == first.verdict_words
    assert "May be beyond, weigh before handover: 5\xa0kg to spare" == second.verdict_words
    assert "0 limits are kept, 1 may be exceeded until the vehicle is weighed, 1 is exceeded." == (
        page.in_brief
    )


def test_the_masses_are_numbered_as_in_the_drawing() -> None:
    page = weights_page(complete())
    told = [row[0] for row in page.masses if row[0] != "–"]
    assert [str(number) for number in range(1, len(told) + 1)] == told
    assert 2 == len(page.views)


def test_the_centre_of_gravity_is_told_against_the_donor() -> None:
    assert weights_page(complete()).change.startswith("Against the donor")
    assert "" == why_no_weights(complete())


def test_a_value_beyond_its_bound_never_reads_like_the_bound() -> None:
    close = CHECK.model_copy(
        update={
            "fact": "rear_share_change_points",
            "value": 3.0184,
            "sigma": 0.27,
            "bound": 3.0,
            "bound_is": "at most",
        }
    )
    row = weights_page(with_checks(close)).checks[0]
    assert ("3.02 ±\xa00.54\xa0points", "at most 3.00\xa0points") == (row.value, row.bound)


def test_an_axle_is_told_by_its_load_and_the_stage_it_was_checked_in() -> None:
    spec = complete()
    check = CHECK.model_copy(
        update={
            "compared": Compared(
                value=991.2, sigma=12.5, bound=1100, bound_is="at most", unit="kg", decimals=0,
                when="laden, no trailer hitched",
            ),
            "verdict": "kept",
        }
    )  # fmt: skip
    row = weights_page(with_checks(check)).checks[0]
    assert ("991 ±\xa025\xa0kg", "at most 1,100\xa0kg") == (row.value, row.bound)
    assert "Kept: 109\xa0kg to spare" == row.verdict_words
    assert row.why.startswith("Laden, no trailer hitched.")
    assert spec.weights.carrying is not None
    assert spec.weights.carrying.fully_laden in weights_page(spec).may_carry
