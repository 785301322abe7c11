"""Findings about values that nobody knows and that are guessed, with what would narrow them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.settle import Settled
from configurator.build_spec.spec import Finding
from configurator.catalog.guesses import guess_sentence
from configurator.catalog.models.data import UncertainValue

FIELD_WORDS = {
    "drag_area_m2": "the drag area",
    "auxiliary_power_w": "what the 12 V circuits take",
    "cabin_heat_loss_w_per_k": "the heat loss of the cabin",
    "rolling_resistance": "the rolling resistance",
    "recovery_efficiency": "what is recovered while braking",
    "resistance_ohm": "the inner resistance",
    "capacity_sigma_percent": "how sure the capacity is",
}
"""Field → what people call it."""


def guess_findings(compiled: Compiled, settled: Settled) -> list[Finding]:
    """Note each guessed value of the vehicle and of the parts that are chosen."""
    vehicle = compiled.book.around.offer.vehicle
    fitted = compiled.book.parts_of(settled.choices).by_slot.values()
    return [
        finding
        for thing in (vehicle, *sorted(fitted, key=lambda part: part.id))
        for finding in _guesses_of(thing)
    ]


def _guesses_of(thing: object) -> Iterator[Finding]:
    guessed: Mapping[str, str] = getattr(thing, "guessed", {})
    label, identifier = str(getattr(thing, "label", "")), str(getattr(thing, "id", ""))
    for field, guessed_from in guessed.items():
        value = getattr(thing, field)
        if isinstance(value, UncertainValue) and value.basis != "guessed":
            continue  # It was measured on this vehicle.
        said = guess_sentence(field, guessed_from)
        yield Finding(
            code="F026",
            severity="notes",
            subject=f"{identifier}.{field}",
            sentence=(
                f"{label}: {FIELD_WORDS[field]} is {said}. Until then the range is told as a wider "
                "band."
            ),
            value=value.value if isinstance(value, UncertainValue) else value,
            source=_source(value, guessed_from),
            remedy=f"Measure it or look it up: {said.partition('; ')[2]}.",
        )


def _source(value: object, guessed_from: str) -> str:
    if isinstance(value, UncertainValue):
        return value.source if isinstance(value.source, str) else value.source.title
    return f"guessed from {guessed_from}; from memory, wide"
