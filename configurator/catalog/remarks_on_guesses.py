"""Remarks on values that were left out and are guessed."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.guesses import NARROWED_BY
from configurator.catalog.models.catalog import Catalog


def guessed_values(catalog: Catalog) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield each value of a vehicle or part that was left out and is guessed."""
    for kind, entries in (("vehicle", catalog.vehicles), ("component", catalog.components)):
        for entry in entries:
            guessed: dict[str, str] = getattr(entry, "guessed", {})
            for field, guessed_from in guessed.items():
                what = (
                    f'{field} of {kind} "{entry.id}" is guessed from {guessed_from}; every band '
                    "that reads it is the wider"
                )
                remedy = f"Give the value with its source; {NARROWED_BY[field]}."
                yield "W016", (kind, entry.id), what, remedy
