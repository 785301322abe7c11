"""Texts of the handover pack, written as Markdown with front matter."""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import Field, model_validator

from configurator.catalog.models.data import Data, Identifier, Label, Sentence, Source

Section = Literal[
    "how-to-use",
    "safety",
    "weights",
    "controls",
    "range",
    "charging",
    "care",
    "battery",
    "high-voltage",
    "emergency-identification",
    "emergency-immobilise",
    "emergency-disable",
    "emergency-access",
    "emergency-stored-energy",
    "emergency-fire",
    "emergency-submersion",
    "emergency-towing",
    "emergency-additional",
    "faults",
    "service",
    "certificates",
    "warranty",
    "end-of-life",
    "handover",
]
"""The section of the pack a text belongs to."""

SignalWord = Literal["danger", "warning", "caution", "notice"]


class AppliesIf(Data):
    """For whom a text is printed; everything given must hold, an empty one always does."""

    vehicles: tuple[Identifier, ...] | None = None
    choices: dict[Identifier, tuple[Identifier, ...]] = {}
    """Group → options of which one is chosen."""
    slots: dict[str, tuple[Identifier, ...]] = {}
    """Slot → components of which one is fitted; an empty list means any."""


class SafetyMessage(Data):
    """A safety message: what can hurt, what happens then, how to avoid it."""

    signal: SignalWord
    hazard: Sentence
    consequence: Sentence
    avoid: tuple[Sentence, ...] = Field(min_length=1)


class Text(Data):
    """A text with its front matter; the body is Markdown."""

    id: Identifier
    section: Section
    title: Label
    order: int = Field(ge=0, le=9999)
    applies_if: AppliesIf = AppliesIf()
    safety: SafetyMessage | None = None
    review_by: date
    approver: Label
    source: Sentence | Source
    body: str = Field(max_length=20_000)

    @model_validator(mode="after")
    def _says_something(self) -> Text:
        if not self.body.strip() and self.safety is None:
            msg = "a text needs a body or a safety message"
            raise ValueError(msg)
        return self
