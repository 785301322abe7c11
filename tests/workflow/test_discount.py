"""A discount is a line of the price with its reason, and never more than the price."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest

from configurator.errors import ChoiceError
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import undo_last_change
from configurator.workflow.discount import read_discount, set_discount
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises


def give(premises: Premises, reference: str, amount: str, reason: str, now: datetime) -> Draft:
    return set_discount(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        amount_gbp=amount,
        reason=reason,
        now=now,
    )


def test_a_discount_takes_its_amount_off_the_price_and_is_undone(
    premises: Premises, reference: str, now: datetime
) -> None:
    before = spec_of_draft(premises, reference).price.total_low_gbp
    given = give(premises, reference, "120.50", "Brought it himself", now)
    price = spec_of_draft(premises, reference).price
    assert before - Decimal("120.50") == price.total_low_gbp
    assert ["Discount: Brought it himself"] == [
        line.label for line in price.lines if line.kind == "discount"
    ]
    undo_last_change(premises, reference, revision=given.revision, now=now)
    assert before == spec_of_draft(premises, reference).price.total_low_gbp


def test_both_fields_empty_take_it_away(premises: Premises, reference: str, now: datetime) -> None:
    give(premises, reference, "120.50", "Brought it himself", now)
    assert give(premises, reference, " ", "", now).build.discount is None


@pytest.mark.parametrize(
    ("typed", "faults"),
    [
        (("a lot", ""), ["Discount", "Why it is given"]),
        (("-5.00", "Because of it"), ["Discount"]),
        (("5.005", "Because of it"), ["Discount"]),
        (("", "Because of it"), ["Discount"]),
        (("999999.00", "Far too much of it"), ["Discount"]),
    ],
)
def test_what_cannot_be_given_is_told_and_nothing_is_kept(
    premises: Premises,
    reference: str,
    now: datetime,
    typed: tuple[str, str],
    faults: list[str],
) -> None:
    with pytest.raises(ChoiceError) as refused:
        give(premises, reference, *typed, now)
    assert faults == [fault.where for fault in refused.value.faults]
    assert {"P019"} == {fault.code for fault in refused.value.faults}
    assert 1 == read_draft(premises, reference).revision


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (
            ("a lot", "no"),
            [
                "Discount: “a lot” is no number. Write it in digits, such as 7.5. [P019]",
                "Why it is given: “no” is too short. Write at least 3 characters. [P019]",
            ],
        ),
        (("-5", "Because"), ["Discount: “-5” is too little. Write at least £0. [P019]"]),
        (
            ("5.005", "Because"),
            ["Discount: “5.005” is too fine. Write it in steps of £0.01. [P019]"],
        ),
        (
            ("5", " "),
            [
                "Why it is given: nothing stands there. "
                "Write amount and reason, or leave both fields empty. [P019]"
            ],
        ),
    ],
)
def test_what_is_wrong_is_said_in_words_and_pounds(typed: tuple[str, str], told: list[str]) -> None:
    with pytest.raises(ChoiceError) as refused:
        read_discount(*typed)
    assert told == [str(fault) for fault in refused.value.faults]


def test_an_amount_is_kept_in_one_form_however_it_is_typed() -> None:
    kept = [read_discount(typed, "Because of it") for typed in ("5", "5.0", "5.00")]
    assert ["5.00"] * 3 == [str(each.amount_gbp) for each in kept if each]
