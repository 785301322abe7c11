"""Payments follow each change that both sides signed; what fell due before it stays."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

from configurator.build_life.due_payments import (
    applied_changes,
    due_payments,
    with_what_was_asked,
)
from configurator.build_life.entries import Body, ChangeOrdered, ChangeSigned, StageReached
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_spec.spec import StagePayment

PERSON = Person(name="Invented Person", role="manager")
STAGES = {"order": "100.00", "paint": "500.00", "handover": "400.00"}
ORDERED = tuple(
    StagePayment(stage_id=stage, stage_label=stage, percent=Decimal(1), amount_gbp=Decimal(amount))
    for stage, amount in STAGES.items()
)


def life_of(*bodies: Body) -> Life:
    made_at = datetime(2026, 3, 4, tzinfo=UTC)
    return Life(
        tuple(Entry(n, body, PERSON, made_at, "0" * 64) for n, body in enumerate(bodies, 1))
    )


def ordered(number: int, price: str, late: str) -> ChangeOrdered:
    return ChangeOrdered(
        number=number,
        from_letter="A",
        from_sha256="0" * 64,
        to_sha256="1" * 64,
        catalog_sha256="2" * 64,
        revision=3,
        stage_id="paint",
        price_change_gbp=Decimal(price),
        late_change_gbp=Decimal(late),
        document_sha256="3" * 64,
    )


def signed(number: int, by: str) -> ChangeSigned:
    return ChangeSigned.model_validate(
        {"number": number, "by": by, "to_sha256": "1" * 64, "how": "on paper"}
    )


def reached(stage: str) -> StageReached:
    return StageReached(stage_id=stage, reached_on=date(2026, 3, 4), letter="A")


# Source: worked by hand: 90.00 over 500.00 and 400.00 still to come is 50.00 and 40.00.
def test_a_signed_change_is_spread_over_what_is_still_to_come() -> None:
    life = life_of(
        reached("order"), ordered(1, "80.00", "10.00"), signed(1, "workshop"), signed(1, "customer")
    )
    due = due_payments(life, ORDERED)
    assert ["100.00", "550.00", "440.00"] == [str(payment.amount_gbp) for payment in due]
    assert [True, False, False] == [payment.has_fallen_due for payment in due]


def test_a_change_that_one_side_signed_moves_nothing() -> None:
    life = life_of(ordered(1, "80.00", "10.00"), signed(1, "customer"))
    assert list(STAGES.values()) == [str(p.amount_gbp) for p in due_payments(life, ORDERED)]
    assert () == applied_changes(life)


def test_a_stage_reached_later_does_not_alter_what_a_change_did_before() -> None:
    change = (ordered(1, "90.00", "0.00"), signed(1, "workshop"), signed(1, "customer"))
    early = due_payments(life_of(reached("order"), *change, reached("paint")), ORDERED)
    late = due_payments(life_of(reached("order"), reached("paint"), *change), ORDERED)
    assert ["100.00", "550.00", "440.00"] == [str(payment.amount_gbp) for payment in early]
    assert ["100.00", "500.00", "490.00"] == [str(payment.amount_gbp) for payment in late]


def test_what_a_proposed_change_would_do_is_shown() -> None:
    due = due_payments(life_of(reached("order")), ORDERED, and_then_gbp=Decimal("-90.00"))
    assert Decimal("910.00") == sum(payment.amount_gbp for payment in due)


# Source: worked by hand: 20.00 less at the order goes to 500.00 and 400.00 as 11.11 and 8.89.
def test_what_fell_due_while_choices_were_open_stays_and_the_rest_is_made_up_later() -> None:
    asked = with_what_was_asked(ORDERED, {"order": Decimal("80.00")})
    assert ["80.00", "511.11", "408.89"] == [str(payment.amount_gbp) for payment in asked]
    assert ORDERED == with_what_was_asked(ORDERED, {})
