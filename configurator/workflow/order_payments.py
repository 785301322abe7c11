"""The stage payments of an order with a change that is not signed yet."""

from __future__ import annotations

from decimal import Decimal

from configurator.build_life.due_payments import (
    DuePayment,
    applied_changes,
    due_payments,
    with_what_was_asked,
)
from configurator.build_life.entries import SpecIssued, StageReached
from configurator.build_life.life import Life
from configurator.build_spec.price_section import stage_payments
from configurator.build_spec.spec import Spec
from configurator.workflow.issued_catalogs import catalog_of
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
            ordered = with_what_was_asked(payments, _asked_while_open(premises, life))
            return due_payments(life, ordered, since=number, and_then_gbp=added)
    # The change closes the last choice: its spec is the first with a price that can be shared out.
    last = life.entries[-1].number
    ordered = with_what_was_asked(spec.price.payments, _asked_while_open(premises, life))
    return due_payments(life, ordered, since=last, and_then_gbp=late_gbp)


def due_when_reached(premises: Premises, life: Life, issued: Spec, stage_id: str) -> Decimal:
    """Tell what falls due when a stage is reached [GBP with VAT], by the issued spec.

    While it has open choices that is the stage's share of the least total, as the quotation said.

    Raises
    ------
    RecordError
        If a spec or its catalog is lost or was altered.
    """
    none = Decimal(0)
    for payment in payments_with(premises, life, issued, none, none):
        if payment.stage_id == stage_id:
            return payment.amount_gbp
    stages = catalog_of(premises, issued.catalog_sha256).stages
    shares = stage_payments(stages, issued.price.total_low_gbp)
    return next((share.amount_gbp for share in shares if share.stage_id == stage_id), none)


def _asked_while_open(premises: Premises, life: Life) -> dict[str, Decimal]:
    """Tell what fell due at each stage that was reached while the price was a from–to.

    It is the stage's share of the least total, as the quotation said.
    """
    issued = {spec.letter: spec for spec in life.of(SpecIssued)}
    asked: dict[str, Decimal] = {}
    for reached in life.of(StageReached):
        spec = issued[reached.letter]
        price = read_spec(premises, life, spec.spec_sha256).price
        if price.payments:
            break
        stages = catalog_of(premises, spec.catalog_sha256).stages
        shares = stage_payments(stages, price.total_low_gbp)
        asked |= {p.stage_id: p.amount_gbp for p in shares if p.stage_id == reached.stage_id}
    return asked


def _since_the_order(life: Life) -> tuple[SpecIssued, ...]:
    """List the issued specs from the one that the first signed change started from."""
    applied, issued = applied_changes(life), life.of(SpecIssued)
    if not applied:
        return issued[-1:]
    letters = [spec.letter for spec in issued]
    return issued[letters.index(applied[0].from_letter) :]
