"""The printed lines of a build, each rounded once, so that the total is a plain sum of pence."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from configurator.build_spec.offer import Offer
from configurator.build_spec.sums import sum_over_options
from configurator.build_spec.survey import SurveyedPart
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.group import Option
from configurator.pricing.net_price import net_price_gbp
from configurator.pricing.vat import gross_pence, vat_percent_on
from configurator.rules.problem import Quantity
from configurator.units import pence


@dataclass(frozen=True)
class PenceLine:
    """A printed line [pence with VAT]."""

    id: str
    label: str
    kind: Literal["base", "option", "survey", "provisional", "discount"]
    amount_pence: int


@dataclass(frozen=True)
class PriceBasis:
    """What every price of a build needs: the rates, the tax of the day, the fixed lines."""

    vat_percent: Decimal
    rates: dict[str, Decimal]
    fixed_lines: tuple[PenceLine, ...]

    def option_pence(self, option: Option) -> int:
        """Price of an option's own line [pence with VAT]."""
        net = net_price_gbp(option.parts_gbp, option.work, self.rates)
        return gross_pence(net, self.vat_percent)


def price_basis(
    catalog: Catalog, offer: Offer, build: BuildInput, surveyed: tuple[SurveyedPart, ...]
) -> PriceBasis:
    """Price every line that no choice moves."""
    vat_percent = vat_percent_on(build.priced_on, catalog.workshop.vat)
    rates = {trade.id: trade.rate_gbp_per_hour for trade in catalog.workshop.trades}
    base = tuple(
        PenceLine(
            line.id,
            line.label,
            "base",
            gross_pence(net_price_gbp(line.parts_gbp, line.work, rates), vat_percent),
        )
        for line in offer.vehicle.base_lines
    )
    survey = tuple(
        PenceLine(
            part.part.id,
            f"{part.part.label}: {part.line.verdict}",
            "survey",
            gross_pence(net_price_gbp(part.parts_gbp, part.work, rates), vat_percent),
        )
        for part in surveyed
        if part.hours or part.parts_gbp
    )
    provisional = tuple(
        PenceLine(
            f"{part.part.id}-provisional",
            f"{part.part.label}: provisional sum",
            "provisional",
            gross_pence(part.line.provisional_gbp, vat_percent),
        )
        for part in surveyed
        if part.line.provisional_gbp
    )
    return PriceBasis(vat_percent, rates, base + survey + provisional + _discount(build))


def price_pence(offer: Offer, basis: PriceBasis) -> Quantity:
    """Sum the price over the choices [pence with VAT]."""
    fixed = sum(line.amount_pence for line in basis.fixed_lines)
    return sum_over_options(offer, fixed, basis.option_pence)


def _discount(build: BuildInput) -> tuple[PenceLine, ...]:
    if build.discount is None:
        return ()
    label = f"Discount: {build.discount.reason}"
    return (PenceLine("discount", label, "discount", -pence(build.discount.amount_gbp)),)
