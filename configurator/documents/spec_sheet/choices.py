"""What is chosen, by part of the talk, and what is still open."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table

from configurator.build_spec.spec import ChoiceOrigin, Spec, SpecChoice
from configurator.catalog.models.workshop import TalkPart
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
    """List the choices with whose they are, a table for each part of the talk."""
    if not spec.choices:
        return [small("Nothing is chosen yet.")]
    return [
        _part_table(part, chosen)
        for part in spec.workshop.talk
        if (chosen := [choice for choice in spec.choices if choice.part_id == part.id])
    ]


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


def _part_table(part: TalkPart, chosen: list[SpecChoice]) -> Table:
    rows = [
        (choice.group_label, choice.option_label, ORIGIN_WORDS[choice.origin]) for choice in chosen
    ]
    return headed_table((part.label, "Chosen", "Whose choice"), rows, (0.3, 0.47, 0.23))
