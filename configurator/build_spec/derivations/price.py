"""How the price came about: the printed lines with VAT, and nothing of what is behind them."""

from __future__ import annotations

from configurator.build_spec.derivations.worked import Question, Worked, money_step
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.rule import FactName
from configurator.pricing.vat import vat_included_pence


def derive_price(question: Question, name: FactName) -> Worked | None:
    """Work out the price as the sum of its lines; rates and cost are never told."""
    if name != "price_gbp":
        return None
    compiled, basis = question.compiled, question.compiled.basis
    lines = [(line.label, line.amount_pence) for line in basis.fixed_lines]
    lines += [
        (f"{group.label}: {option.label}", basis.option_pence(option))
        for group, option in compiled.offer.pairs()
        if question.choices.get(group.id) == option.id
    ]
    total = sum(amount for _, amount in lines)
    return Worked(
        "the sum of the printed lines, each rounded once to the penny with its VAT",
        "common practice, no source: rounding by line",
        (_vat(question),),
        (
            *(money_step(label, amount) for label, amount in lines if amount),
            money_step("Sum of the lines", total),
        ),
        beside=(money_step("VAT inside that sum", vat_included_pence(total, basis.vat_percent)),),
        narrowed_by=_narrowed_by(question),
    )


def _vat(question: Question) -> StatedInput:
    day = question.build.priced_on
    rates = [rate for rate in question.compiled.catalog.workshop.vat if rate.valid_from <= day]
    rate = max(rates, key=lambda found: found.valid_from)
    return StatedInput(
        id="vat",
        label=f"VAT on {day.isoformat()}",
        value=float(rate.percent),
        unit="%",
        source=source_words(rate.source),
    )


def _narrowed_by(question: Question) -> tuple[str, ...]:
    provisional = [
        line.label for line in question.compiled.basis.fixed_lines if line.kind == "provisional"
    ]
    return tuple(f"Open up and look, which settles {label}" for label in provisional)
