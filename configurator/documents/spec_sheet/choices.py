"""What is chosen, by part of the talk, each with its own price line, and what is still open."""

from __future__ import annotations

from decimal import Decimal

from reportlab.platypus import Flowable, Table

from configurator.build_spec.spec import ChoiceOrigin, PriceLine, Spec, SpecChoice
from configurator.documents.figures import day, pounds
from configurator.documents.headings import minor_heading
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

ORIGIN_WORDS: dict[ChoiceOrigin, str] = {
    "customer": "your choice",
    "house": "workshop's choice",
    "follows": "follows from the rest",
}


def choice_blocks(spec: Spec) -> list[Flowable]:
    """List the choices by part of the talk, with whose each one is and what it costs."""
    if not spec.choices:
        return [small("Nothing is chosen yet.")]
    return [_choice_table(spec)]


def line_of_choice(spec: Spec, choice: SpecChoice) -> PriceLine | None:
    """Find the price line that belongs to a choice; None when it has none of its own.

    The line carries the group's id, alone or with the option's after a dot.
    """
    wanted = {choice.group_id, f"{choice.group_id}.{choice.option_id}"}
    return next((line for line in spec.price.lines if line.id in wanted), None)


def price_of_choices(spec: Spec) -> Decimal:
    """Sum the lines that the table of choices prints [GBP with VAT]."""
    lines = (line_of_choice(spec, choice) for choice in spec.choices)
    return sum((line.amount_gbp for line in lines if line is not None), Decimal("0.00"))


def open_group_blocks(spec: Spec) -> list[Flowable]:
    """List what is still open with the stage and day that close it; nothing when all is chosen."""
    if not spec.open_groups:
        return []
    rows = [
        (group.group_label, f"{group.closes_at}, by {day(group.close_by)}",
         str(group.possible_options))
        for group in spec.open_groups
    ]  # fmt: skip
    head = ("Still open", "Decide before", "Possible options")
    return [
        minor_heading("Still to decide"),
        headed_table(head, rows, (0.4, 0.4, 0.2), figures=(2,), strong=(0,)),
    ]


def _choice_table(spec: Spec) -> Table:
    rows = [_row(spec, part, choice) for part, choice in _by_part(spec)]
    rows.append(("Choices together", "", "", "", pounds(price_of_choices(spec))))
    head = ("", "Question", "Chosen", "Whose choice", "With VAT")
    shares = (0.25, 0.19, 0.25, 0.18, 0.13)
    return headed_table(head, rows, shares, figures=(4,), strong=(0,), has_total=True)


def _row(spec: Spec, part: str, choice: SpecChoice) -> tuple[str, ...]:
    line = line_of_choice(spec, choice)
    price = pounds(line.amount_gbp) if line is not None else "none of its own"
    return (part, choice.group_label, choice.option_label, ORIGIN_WORDS[choice.origin], price)


def _by_part(spec: Spec) -> list[tuple[str, SpecChoice]]:
    """Order the choices by part of the talk; its label stands at the first of each part."""
    parts = {part.id: part.label for part in spec.workshop.talk}
    order = list(parts)
    ordered = sorted(
        spec.choices, key=lambda c: order.index(c.part_id) if c.part_id in parts else len(order)
    )
    shown: set[str] = set()
    rows: list[tuple[str, SpecChoice]] = []
    for choice in ordered:
        label = "" if choice.part_id in shown else parts.get(choice.part_id, "Other")
        shown.add(choice.part_id)
        rows.append((label, choice))
    return rows
