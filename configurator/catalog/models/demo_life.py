"""What has happened to a demonstration build."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import StringConstraints

from configurator.catalog.models.data import Data, Identifier, Label, Sentence

Name = Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]


class DemoPeople(Data):
    """Who did it; invented."""

    consultant: Name
    engineer: Name
    manager: Name
    second_person: Name


class DemoLife(Data):
    """How far a demonstration build has come."""

    until: Literal["quoted", "ordered", "signed"]
    stages: tuple[Identifier, ...] = ()
    """Reached after the sign-offs, in order."""
    change: dict[Identifier, Identifier] = {}
    """Group → option of a change order that waits for its signatures."""
    paper: Label = "On paper, in the demonstration's file"
    because: Sentence = "Seen and judged, for the demonstration."
    """Written beside each warning."""
    people: DemoPeople
