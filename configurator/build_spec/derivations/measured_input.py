"""An input that was measured on the finished vehicle, in place of what the catalog states."""

from __future__ import annotations

from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.data import UncertainValue


def as_measured(stated: StatedInput, measured: UncertainValue | None) -> StatedInput:
    """Say of an input that it rests on a measurement; unchanged where nobody measured."""
    if measured is None:
        return stated
    basis_and_source = {"basis": measured.basis, "source": source_words(measured.source)}
    return stated.model_copy(update=basis_and_source)
