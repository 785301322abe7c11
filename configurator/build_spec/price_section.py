"""The price part of the Spec: printed lines, total, tax inside, stage payments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.price_lines import PenceLine
from configurator.build_spec.settle import Settled
from configurator.build_spec.spec import Price, PriceLine, StagePayment
from configurator.catalog.models.workshop import Stage
from configurator.pricing.stage_payments import stage_payments_pence
from configurator.pricing.vat import vat_included_pence
from configurator.units import pence, pounds


def price_section(
    compiled: Compiled, settled: Settled, price: tuple[float, float], hours: tuple[float, float]
) -> Price:
    """Print the lines of what is settled and the total as a from–to.

    Parameters
    ----------
    compiled : Compiled
        The build's facts.
    settled : Settled
        The choices as they stand.
    price : tuple of float
        Least and greatest total [GBP].
    hours : tuple of float
        Least and greatest working hours [h].
    """
    basis = compiled.basis
    lines = [*basis.fixed_lines, *_option_lines(compiled, settled.choices)]
    low, high = (round(amount * 100) for amount in price)
    is_complete = len(settled.choices) == len(compiled.offer.groups)
    return Price(
        lines=tuple(
            PriceLine(id=x.id, label=x.label, kind=x.kind, amount_gbp=pounds(x.amount_pence))
            for x in lines
        ),
        decided_gbp=pounds(sum(line.amount_pence for line in lines)),
        total_low_gbp=pounds(low),
        total_high_gbp=pounds(high),
        vat_percent=basis.vat_percent,
        vat_included_low_gbp=pounds(vat_included_pence(low, basis.vat_percent)),
        vat_included_high_gbp=pounds(vat_included_pence(high, basis.vat_percent)),
        payments=stage_payments(compiled.catalog.stages, pounds(low)) if is_complete else (),
        hours_low=Decimal(str(round(hours[0], 1))),
        hours_high=Decimal(str(round(hours[1], 1))),
    )


def _option_lines(compiled: Compiled, choices: Mapping[str, str]) -> list[PenceLine]:
    return [
        PenceLine(
            f"{group.id}.{option.id}",
            f"{group.label}: {option.label}",
            "option",
            compiled.basis.option_pence(option),
        )
        for group, option in compiled.offer.pairs()
        if choices.get(group.id) == option.id
    ]


def stage_payments(stages: Sequence[Stage], total_gbp: Decimal) -> tuple[StagePayment, ...]:
    """Share a total [GBP with VAT] out over the stages; they sum to it to the penny.

    Raises
    ------
    MeasurementError
        If the shares of the stages do not sum to 100.
    """
    percents = [stage.due_percent for stage in stages]
    amounts = stage_payments_pence(pence(total_gbp), percents)
    return tuple(
        StagePayment(
            stage_id=stage.id,
            stage_label=stage.label,
            percent=stage.due_percent,
            amount_gbp=pounds(amount),
        )
        for stage, amount in zip(stages, amounts, strict=True)
        if stage.due_percent
    )
