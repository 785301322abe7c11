"""What every component states beside the values of its kind."""

from __future__ import annotations

from configurator.catalog.models.data import Data, Identifier, Label, Sentence, Source


class Part(Data):
    """A component of the catalog."""

    id: Identifier
    label: Label
    maker: Label
    note: Sentence | None = None
    source: Sentence | Source
