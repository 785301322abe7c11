"""The surveyed parts, each with what it costs."""

from __future__ import annotations

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.spec import SurveyResult
from configurator.pricing.net_price import net_price_gbp
from configurator.pricing.vat import gross_pence
from configurator.units import pounds


def survey_results(compiled: Compiled) -> tuple[SurveyResult, ...]:
    """Tell of every surveyed part what is done and what that costs."""
    basis = compiled.basis
    return tuple(
        SurveyResult(
            part_id=item.part.id,
            label=item.part.label,
            area=item.part.area,
            verdict=item.line.verdict,
            hours=item.hours,
            amount_gbp=pounds(
                gross_pence(
                    net_price_gbp(item.parts_gbp, item.work, basis.rates), basis.vat_percent
                )
            ),
            provisional_gbp=pounds(gross_pence(item.line.provisional_gbp, basis.vat_percent)),
            origin=item.line.origin,
            note=item.line.note,
        )
        for item in compiled.surveyed
    )
