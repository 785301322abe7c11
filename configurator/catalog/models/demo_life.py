"""What has happened to a demonstration build."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import Data, Identifier, Label, Sentence

Name = Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]
Days = Annotated[int, Field(ge=0, le=3650)]
"""[days] before the demonstration is filled in."""

DemoStep = Literal["quoted", "ordered", "signed", "pack-issued", "handed-over"]


class DemoPeople(Data):
    """Who did it; invented."""

    consultant: Name
    engineer: Name
    manager: Name
    second_person: Name


class DemoRecord(Data):
    """A measurement or test of the finished vehicle; invented."""

    record: Identifier
    days_ago: Days = 0
    values: dict[Identifier, float | str]
    instrument: str = ""
    calibrated_for_days: Days | None = None
    """After the day of the measurement."""


class DemoLife(Data):
    """How far a demonstration build has come, and when."""

    until: DemoStep
    quoted_days_ago: Days = 0
    ordered_days_ago: Days = 0
    """Accepted and signed off."""
    stages: dict[Identifier, Days] = {}
    """Stage → how long ago it was reached, after the sign-offs, in order."""
    change: dict[Identifier, Identifier] = {}
    """Group → option of a change order that waits for its signatures."""
    serial_numbers: dict[Slot, Name] = {}
    records: tuple[DemoRecord, ...] = ()
    """After the stages."""
    paper: Label = "On paper, in the demonstration's file"
    because: Sentence = "Seen and judged, for the demonstration."
    """Written beside each warning."""
    people: DemoPeople
