"""What is chosen, by part of the talk, and what is still open."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table

from configurator.build_spec.spec import ChoiceOrigin, Spec
from configurator.documents.figures import day
from configurator.documents.headings import minor_heading
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

ORIGIN_WORDS: dict[ChoiceOrigin, str] = {
    "customer": "your choice",
    "house": "house choice",
    "follows": "follows from the rules",
}


def choice_blocks(spec: Spec) -> list[Flowable]:
    """List the choices by part of the talk, with whose each one is."""
    if not spec.choices:
        return [small("Nothing is chosen yet.")]
    return [choice_table(spec)]


def choice_table(spec: Spec) -> Table:
    """Tabulate the choices; the part of the talk stands at its first choice."""
    ordered = [
        (part.label if number == 0 else "", choice)
        for part in spec.workshop.talk
        for number, choice in enumerate(c for c in spec.choices if c.part_id == part.id)
    ]
    rows = [
        (part, choice.group_label, choice.option_label, ORIGIN_WORDS[choice.origin])
        for part, choice in ordered
    ]
    head = ("", "Question", "Chosen", "Whose choice")
    return headed_table(head, rows, (0.2, 0.23, 0.37, 0.2), strong=(0,))


def open_group_blocks(spec: Spec) -> list[Flowable]:
    """List what is still open with the stage and day that close it."""
    if not spec.open_groups:
        return [small("Every choice is made.")]
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
