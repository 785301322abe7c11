"""What a change order says, while it is proposed and once it is written."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from configurator.build_life.differences import (
    SpecDifferences,
    altered_amounts_gbp,
    spec_differences,
)
from configurator.build_life.entries import ChangeOrdered, WarningAnswered
from configurator.build_life.life import Life
from configurator.build_spec.spec import Spec
from configurator.catalog.models.workshop import Stage
from configurator.documents.change_order import ChangeOrderContent
from configurator.pricing.late_change import late_change_pence
from configurator.units import pence, pounds
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.issuing import read_spec
from configurator.workflow.order_payments import payments_with
from configurator.workflow.premises import Premises


def late_change_gbp(found: SpecDifferences, stage: Stage) -> Decimal:
    """Tell what a change costs on top in a stage, of each other choice [GBP with VAT]."""
    altered = [(pence(was), pence(now)) for was, now in altered_amounts_gbp(found.lines)]
    return pounds(late_change_pence(altered, stage.late_change_percent))


def change_content(
    premises: Premises,
    life: Life,
    spec: Spec,
    *,
    number: int,
    from_letter: str,
    found: SpecDifferences,
    stage: Stage,
    late_gbp: Decimal,
    answered: Sequence[WarningAnswered],
) -> ChangeOrderContent:
    """Gather what a change order says.

    Parameters
    ----------
    premises, life
        Of the build.
    spec : Spec
        The proposed one.
    number, from_letter
        Of the change order, and of the spec that it starts from.
    found : SpecDifferences
        From that spec to the proposed one.
    stage : Stage
        That the vehicle is in.
    late_gbp : Decimal
        What it costs on top that the work has gone on [GBP with VAT].
    answered : sequence of WarningAnswered
        Why the work goes on although a check warns.
    """
    return ChangeOrderContent(
        number=number,
        from_letter=from_letter,
        stage_label=stage.label,
        late_change_percent=stage.late_change_percent,
        differences=found,
        late_change_gbp=late_gbp,
        payments=payments_with(premises, life, spec, found.price_change_gbp, late_gbp),
        answered=tuple(answered),
    )


def content_as_written(
    premises: Premises, life: Life, order: ChangeOrdered
) -> tuple[Spec, ChangeOrderContent]:
    """Tell what a change order that waits for signatures says, with the spec that it proposes.

    Raises
    ------
    RecordError
        If one of the two specs is lost or was altered.
    """
    before, after = (
        read_spec(premises, life, sha256) for sha256 in (order.from_sha256, order.to_sha256)
    )
    stages = catalog_of(premises, order.catalog_sha256).stages
    content = change_content(
        premises,
        life,
        after,
        number=order.number,
        from_letter=order.from_letter,
        found=spec_differences(before, after),
        stage=next(stage for stage in stages if stage.id == order.stage_id),
        late_gbp=order.late_change_gbp,
        answered=order.answered,
    )
    return after, content
