"""Whether the customer ordered what is issued, and how: said on the papers of the issued spec."""

from __future__ import annotations

from configurator.build_life.due_payments import applied_changes
from configurator.build_life.entries import ChangeSigned, QuotationAccepted, SpecIssued
from configurator.build_life.life import Life
from configurator.build_spec.days import day_in_words


def has_ordered(life: Life) -> bool:
    """Tell whether the customer has signed anything: a quotation, or a change order."""
    return life.accepted is not None or bool(applied_changes(life))


def how_it_was_ordered(life: Life, issued: SpecIssued) -> str:
    """Say how the customer ordered an issued spec, or why it is issued without their order.

    Parameters
    ----------
    life : Life
        Of the build.
    issued : SpecIssued
        One of its specs.

    Returns
    -------
    str
        One sentence; no names.
    """
    if issued.not_ordered_because:
        return f"Not ordered by the customer: {issued.not_ordered_because.rstrip('.')}."
    number = life.entry_of(issued).number
    before = Life(tuple(entry for entry in life.entries if entry.number < number))
    just_before = before.entries[-1].body if before.entries else None
    if isinstance(just_before, QuotationAccepted):
        signed_on = day_in_words(just_before.accepted_on)
        return f"Ordered by the customer: quotation Q{just_before.number}, signed on {signed_on}."
    if isinstance(just_before, ChangeSigned):
        number = just_before.number
        (on, *_) = [one.signed_on for one in life.signatures(number) if one.by == "customer"]
        day = f"on {day_in_words(on)}" if on else "as noted"
        return f"Ordered by the customer: change order C{number}, signed by the customer {day}."
    if has_ordered(before):
        letter = before.issued.letter if before.issued else ""
        return f"Choices and price are as the customer ordered them with spec {letter}."
    return "Not ordered by the customer: no quotation was given before it was issued."
