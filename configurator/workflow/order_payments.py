"""The stage payments of an order with a change that is not signed yet."""

from __future__ import annotations

from decimal import Decimal

from configurator.build_life.due_payments import DuePayment, applied_changes, due_payments
from configurator.build_life.entries import SpecIssued
from configurator.build_life.life import Life
from configurator.build_spec.spec import Spec
from configurator.workflow.issuing import read_spec
from configurator.workflow.premises import Premises


def payments_with(
    premises: Premises, life: Life, spec: Spec, price_change_gbp: Decimal, late_gbp: Decimal
) -> tuple[DuePayment, ...]:
    """Tell what a change makes of the payments.

    Parameters
    ----------
    premises : Premises
        Where the issued specs are kept.
    life : Life
        Of the build.
    spec : Spec
        The proposed one.
    price_change_gbp, late_gbp : Decimal
        What the change adds by its lines, and for being late [GBP with VAT].

    Returns
    -------
    tuple of DuePayment
        They sum to the price of the proposed spec with all late-change costs; empty while it has
        open choices and so had the order.
    """
    for issued in _since_the_order(life):
        payments = read_spec(premises, life, issued.spec_sha256).price.payments
        if payments:
            number, added = life.entry_of(issued).number, price_change_gbp + late_gbp
            return due_payments(life, payments, since=number, and_then_gbp=added)
    # The change closes the last choice: its spec is the first with a price that can be shared out.
    last = life.entries[-1].number
    return due_payments(life, spec.price.payments, since=last, and_then_gbp=late_gbp)


def _since_the_order(life: Life) -> tuple[SpecIssued, ...]:
    """List the issued specs from the one that the first signed change started from."""
    applied, issued = applied_changes(life), life.of(SpecIssued)
    if not applied:
        return issued[-1:]
    letters = [spec.letter for spec in issued]
    return issued[letters.index(applied[0].from_letter) :]
