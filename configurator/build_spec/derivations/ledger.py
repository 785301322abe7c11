"""What a vehicle weighs, mass by mass with its place: the lines that weights are summed from."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.derivations.worked import Question, by_practice, of_vehicle, step
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.build_spec.sums import (
    PlacedMassMm,
    donor_axles_kg,
    donor_masses,
    driver_item,
    placed_mm,
)
from configurator.build_spec.weight_as_weighed import weighed_axles
from configurator.build_spec.weight_doubt import WEIGHBRIDGE_SIGMA_KG
from configurator.catalog.models.vehicle import PlacedItem

OF_PARTS = "the parts, now that the donor is weighed; common practice, no source"

Lever = Callable[[PlacedMassMm], float]


@dataclass(frozen=True)
class WeighedLine:
    """A mass with its place; negative where it goes out."""

    words: str
    sign: int
    mass: PlacedMassMm

    def by(self, lever: Lever) -> float:
        """Mass times lever [g x unit of the lever]."""
        return self.sign * self.mass.mass_g * lever(self.mass)


def kerb_lines(question: Question) -> list[WeighedLine]:
    """List what the kerb mass is made of: the weighed axles, or donor and ledger until then."""
    axles = weighed_axles(question.compiled, question.choices, question.build)
    if axles is None:
        return computed_kerb_lines(question)
    front, rear = axles
    return [
        WeighedLine("Finished vehicle as weighed, front axle", 1, front),
        WeighedLine("Finished vehicle as weighed, rear axle", 1, rear),
    ]


def computed_kerb_lines(question: Question) -> list[WeighedLine]:
    """List the donor's axles, what goes out and what goes in."""
    front, rear = donor_masses(question.vehicle, question.build)
    lines = [
        WeighedLine("Donor, front axle", 1, front),
        WeighedLine("Donor, rear axle", 1, rear),
        *_placed(question, "Out", -1, question.vehicle.takes_out),
        *_placed(question, "In", 1, question.vehicle.puts_in),
    ]
    for option in question.options:
        lines += _placed(question, "Out", -1, option.takes_out)
        lines += _placed(question, "In", 1, option.puts_in)
    return lines


def driver_line(question: Question) -> WeighedLine:
    """Seat the driver."""
    return WeighedLine("Driver", 1, placed_mm(question.vehicle, driver_item(question.vehicle)))


def laden_lines(question: Question) -> list[WeighedLine]:
    """Add driver, people and load to what the vehicle weighs."""
    lines = [*kerb_lines(question), driver_line(question)]
    lines += _placed(question, "Carried", 1, question.vehicle.carries)
    for option in question.options:
        lines += _placed(question, "Carried", 1, option.carries)
    return lines


def _placed(
    question: Question, what: str, sign: int, items: Sequence[PlacedItem]
) -> Iterator[WeighedLine]:
    for item in items:
        place = question.vehicle.places[item.place].label
        words = f"{what}: {item.what}, {place}"
        yield WeighedLine(words, sign, placed_mm(question.vehicle, item))


def line_steps(
    lines: Sequence[WeighedLine], lever: Lever, per_unit: float, unit: str
) -> list[DerivationStep]:
    """Tell what each line adds."""
    return [
        step(line.words, line.by(lever) / per_unit, unit, 1)
        for line in lines
        if line.by(lever) != 0
    ]


def mass_inputs(question: Question) -> tuple[StatedInput, ...]:
    """State the axles that masses start from: of the finished vehicle, or of the donor until then.

    Returns
    -------
    tuple of StatedInput
        Front axle, rear axle, the doubt about the whole, wheelbase.
    """
    axles = weighed_axles(question.compiled, question.choices, question.build)
    if axles is None:
        return donor_inputs(question)
    named = zip(("front", "rear"), axles, strict=True)
    doubt = by_practice(
        "mass-doubt",
        "Doubt about the weighed kerb mass",
        0.0,
        "kg",
        "a weighbridge's step of 20 kg",
    )
    vehicle = question.vehicle
    return (
        *(
            StatedInput(
                id=f"weighed-{axle}-axle",
                label=f"Finished vehicle, {axle} axle",
                value=load.mass_g / 1000,
                unit="kg",
                sigma=WEIGHBRIDGE_SIGMA_KG,
                basis="measured",
                source="the weighbridge, finished vehicle empty and ready to drive",
            )
            for axle, load in named
        ),
        doubt.model_copy(update={"sigma": math.sqrt(2) * WEIGHBRIDGE_SIGMA_KG}),
        of_vehicle(vehicle, "wheelbase", "Wheelbase", vehicle.wheelbase_m, "m"),
    )


def donor_inputs(question: Question) -> tuple[StatedInput, ...]:
    """State the donor's axles, as weighed or by the catalog, and the doubt about the whole."""
    vehicle, donor = question.vehicle, question.build.donor
    is_weighed = donor.axles_were_weighed
    source = "weighed at the workshop" if is_weighed else source_words(vehicle.source)
    axles = zip(("front", "rear"), donor_axles_kg(vehicle, question.build), strict=True)
    return (
        *(
            StatedInput(
                id=f"donor-{axle}-axle",
                label=f"Donor, {axle} axle",
                value=load_kg,
                unit="kg",
                sigma=WEIGHBRIDGE_SIGMA_KG if is_weighed else 0.0,
                basis="measured" if is_weighed else "catalog",
                source=source,
            )
            for axle, load_kg in axles
        ),
        StatedInput(
            id="mass-doubt",
            label="Doubt about the computed kerb mass",
            value=0.0,
            unit="kg",
            sigma=vehicle.mass_sigma_kg,
            source=OF_PARTS if is_weighed else source_words(vehicle.source),
        ),
        of_vehicle(vehicle, "wheelbase", "Wheelbase", vehicle.wheelbase_m, "m"),
    )  # fmt: skip
