"""Stage payments of an order, after each change order that both sides signed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from configurator.build_life.entries import ChangeOrdered, ChangeSigned, StageReached
from configurator.build_life.life import Life
from configurator.build_spec.spec import StagePayment
from configurator.pricing.late_change import payments_after_pence
from configurator.units import pence, pounds


@dataclass(frozen=True)
class DuePayment:
    """What is to be paid when a stage is reached [GBP with VAT]."""

    stage_id: str
    stage_label: str
    ordered_gbp: Decimal
    """As the quotation said."""
    amount_gbp: Decimal
    """With every change that was signed."""
    has_fallen_due: bool


def applied_changes(life: Life) -> tuple[ChangeOrdered, ...]:
    """List the change orders that both sides signed, in the order of the second signature."""
    orders = {order.number: order for order in life.of(ChangeOrdered)}
    seen: set[int] = set()
    applied = []
    for signed in life.of(ChangeSigned):
        if signed.number in seen:
            applied.append(orders[signed.number])
        seen.add(signed.number)
    return tuple(applied)


def due_payments(
    life: Life,
    ordered: Sequence[StagePayment],
    *,
    since: int = 0,
    and_then_gbp: Decimal = Decimal(0),
) -> tuple[DuePayment, ...]:
    """Tell what is due at each stage.

    Parameters
    ----------
    life : Life
        Of the build.
    ordered : sequence of StagePayment
        Of an issued spec, as the order said.
    since : int
        Number of the entry that issued it: the lines of changes signed before are in it already,
        and only what they cost for being late comes on top.
    and_then_gbp : Decimal
        What a change not yet signed would add, to show its effect.

    Returns
    -------
    tuple of DuePayment
        They sum to the price with all changes.
    """
    amounts = [pence(payment.amount_gbp) for payment in ordered]
    reached: set[str] = set()
    second: set[int] = set()
    changes = {order.number: order for order in life.of(ChangeOrdered)}
    for entry in life.entries:
        body = entry.body
        if isinstance(body, StageReached):
            reached.add(body.stage_id)
        if isinstance(body, ChangeSigned):
            if body.number in second:
                order = changes[body.number]
                lines = order.price_change_gbp if entry.number > since else Decimal(0)
                added = lines + order.late_change_gbp
                amounts = _changed(amounts, ordered, reached, added)
            second.add(body.number)
    amounts = _changed(amounts, ordered, reached, and_then_gbp)
    return tuple(
        DuePayment(
            stage_id=payment.stage_id,
            stage_label=payment.stage_label,
            ordered_gbp=payment.amount_gbp,
            amount_gbp=pounds(amount),
            has_fallen_due=payment.stage_id in reached,
        )
        for payment, amount in zip(ordered, amounts, strict=True)
    )


def with_what_was_asked(
    ordered: Sequence[StagePayment], asked_gbp: Mapping[str, Decimal]
) -> tuple[StagePayment, ...]:
    """Keep what fell due while the price was a from–to, and make up for it later.

    Parameters
    ----------
    ordered : sequence of StagePayment
        Of the first spec whose price is one amount.
    asked_gbp : mapping
        Stage → what was asked for when it was reached, choices being open [GBP with VAT].

    Returns
    -------
    tuple of StagePayment
        They sum to what they summed to before.
    """
    if not asked_gbp or not ordered:
        return tuple(ordered)
    planned = [asked_gbp.get(payment.stage_id, payment.amount_gbp) for payment in ordered]
    lacking = sum((payment.amount_gbp for payment in ordered), Decimal(0)) - sum(planned)
    due = [payment.stage_id in asked_gbp for payment in ordered]
    amounts = payments_after_pence([pence(amount) for amount in planned], due, pence(lacking))
    return tuple(
        payment.model_copy(update={"amount_gbp": pounds(amount)})
        for payment, amount in zip(ordered, amounts, strict=True)
    )


def _changed(
    amounts: list[int], ordered: Sequence[StagePayment], reached: set[str], added_gbp: Decimal
) -> list[int]:
    if not added_gbp or not ordered:
        return amounts
    due = [payment.stage_id in reached for payment in ordered]
    return [*payments_after_pence(amounts, due, pence(added_gbp))]
