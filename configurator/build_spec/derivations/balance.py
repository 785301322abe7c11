"""How the centre of gravity, and what follows from it, came about."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.derivation import DerivationStep
from configurator.build_spec.derivations.ledger import (
    WeighedLine,
    computed_kerb_lines,
    donor_inputs,
    driver_line,
    kerb_lines,
    laden_lines,
    line_steps,
    mass_inputs,
)
from configurator.build_spec.derivations.worked import Question, Worked, of_vehicle, step
from configurator.build_spec.ratio_facts import BRAKING_G
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.build_spec.sums import (
    PlacedMassMm,
    donor_height_m,
    donor_height_sigma_m,
    donor_left_share,
)
from configurator.build_spec.weight_doubt import side_sigma_percent
from configurator.catalog.models.rule import FactName

_HOW_HEIGHT = (
    "Weigh the donor with one axle raised, which tells the height of its centre of gravity",
    "Weigh the finished vehicle so",
)
_GMM_PER_KGM = 1e6


def derive_balance(question: Question, name: FactName) -> Worked | None:
    """Work out a fact of the centre of gravity."""
    stays = name in {"centre_of_gravity_height_m", "left_share_percent"}
    fact = (question.compiled.book if stays else question.book).ratio_fact(name)
    if fact is None:
        return None
    value = fact.of(question.choices)
    if name == "rear_share_change_points":
        return _rear_share(question, value)
    if name == "left_share_percent":
        return _left_share(question, value)
    if name == "centre_of_gravity_height_m":
        return _height(question, value)
    return (
        _rollover(question, value) if name == "rollover_threshold_g" else _braking(question, value)
    )


def _heights(question: Question, lines: Sequence[WeighedLine]) -> list[DerivationStep]:
    """Tell mass times height of each line, their sum, the mass, and the height of both."""
    moment = sum(line.by(lambda mass: mass.z_mm) for line in lines) / _GMM_PER_KGM
    mass_kg = sum(line.by(lambda _: 1) for line in lines) / 1000
    return [
        *line_steps(lines, lambda mass: mass.z_mm, _GMM_PER_KGM, "kg·m"),
        step("Mass times height, together", moment, "kg·m"),
        step("Mass", mass_kg, "kg"),
        step("One by the other: height of the centre of gravity", moment / mass_kg, "m", 3),
    ]


def _height_input(question: Question) -> StatedInput:
    vehicle, stated = question.vehicle, question.vehicle.donor_cg_height_m
    return StatedInput(
        id="donor-height",
        label="Donor, height of the centre of gravity",
        value=donor_height_m(vehicle),
        unit="m",
        sigma=donor_height_sigma_m(vehicle),
        basis="guessed" if stated is None else stated.basis,
        source="guessed from its roof" if stated is None else source_words(stated.source),
    )


def _height(question: Question, value: float) -> Worked:
    steps = _heights(question, computed_kerb_lines(question))
    return Worked(
        "each mass times its height above the ground, together, by the mass",
        "static equilibrium",
        (*donor_inputs(question)[:2], _height_input(question)),
        (*steps[:-1], steps[-1].model_copy(update={"value": value})),
        narrowed_by=_HOW_HEIGHT,
    )


def _rollover(question: Question, value: float) -> Worked:
    vehicle = question.vehicle
    track = of_vehicle(vehicle, "track", "Track", vehicle.track_m, "m")
    return Worked(
        "half the track by the height of the centre of gravity, fully laden; bodies that lean and "
        "tyres that slip are left out",
        "static stability factor, 49 CFR Part 575",
        (*mass_inputs(question)[:2], _height_input(question), track),
        (
            *_heights(question, laden_lines(question)),
            step("Half the track", vehicle.track_m / 2, "m", 3),
            step("Half the track by the height", value, "g", 3),
        ),
        narrowed_by=_HOW_HEIGHT,
    )


def _braking(question: Question, value: float) -> Worked:
    vehicle, lines = question.vehicle, [*kerb_lines(question), driver_line(question)]
    mass_kg = sum(line.by(lambda _: 1) for line in lines) / 1000
    rear_kg = sum(line.by(lambda m: m.x_mm) for line in lines) / vehicle.wheelbase_m / _GMM_PER_KGM
    height_m = sum(line.by(lambda m: m.z_mm) for line in lines) / _GMM_PER_KGM / mass_kg
    moved_kg = float(BRAKING_G) * mass_kg * height_m / vehicle.wheelbase_m
    return Worked(
        "the rear axle's load, less what braking moves to the front: deceleration times mass times "
        "height by wheelbase; as a share of the mass",
        "static equilibrium; UN Regulation No. 13-H, Annex 5, for 0.8 g, from memory",
        (*mass_inputs(question), _height_input(question)),
        (
            step("Mass with the driver alone", mass_kg, "kg"),
            step("Height of its centre of gravity", height_m, "m", 3),
            step("Rear axle at rest", rear_kg, "kg"),
            step(f"Moved to the front at {float(BRAKING_G):g} g", moved_kg, "kg"),
            step("Rear axle while braking", rear_kg - moved_kg, "kg"),
            step("As a share of the mass", value, "%"),
        ),
        narrowed_by=_HOW_HEIGHT,
    )


def _rear_share(question: Question, value: float) -> Worked:
    masses = question.book.masses
    rear_g_mm = masses.kerb_rear_moment.of(question.choices)
    rear_kg, kerb_g = rear_g_mm / masses.wheelbase_mm / 1000, masses.kerb_g.of(question.choices)
    share = 100 * rear_kg / (kerb_g / 1000)
    donor = 100 * float(masses.donor_rear_share)
    return Worked(
        "the rear axle's share of the kerb mass, less that of the donor",
        "static equilibrium",
        _share_inputs(question),
        (
            step("Rear axle, kerb, worked out as its own figure", rear_kg, "kg"),
            step("Kerb mass, worked out as its own figure", kerb_g / 1000, "kg"),
            step("Share on the rear axle", share, "%", 2),
            step("Share on the donor's rear axle", donor, "%", 2),
            step("Difference", value, "points", 2),
        ),
        narrowed_by=()
        if question.weighed
        else ("Weigh the donor and the finished vehicle on each axle",),
    )


def _share_inputs(question: Question) -> tuple[StatedInput, ...]:
    donor = donor_inputs(question)
    return donor if question.weighed is None else (*donor[:2], *mass_inputs(question))


def _left_share(question: Question, value: float) -> Worked:
    masses, lines = question.compiled.book.masses, computed_kerb_lines(question)

    def lever(mass: PlacedMassMm) -> float:
        return (masses.track_mm - 2 * mass.y_mm) / (2 * masses.track_mm)

    left_kg = sum(line.by(lever) for line in lines) / 1000
    kerb_kg = masses.kerb_g.of(question.choices) / 1000
    is_weighed = question.build.donor.sides_were_weighed
    side = StatedInput(
        id="donor-left-share",
        label="Donor, share on its left wheels",
        value=100 * float(donor_left_share(question.build)),
        unit="%",
        sigma=side_sigma_percent(
            (masses.donor_front_g + masses.donor_rear_g) / 1000, was_weighed=is_weighed
        ),
        basis="measured" if is_weighed else "guessed",
        source="weighed at the workshop" if is_weighed else "taken as symmetric",
    )
    track = of_vehicle(question.vehicle, "track", "Track", question.vehicle.track_m, "m")
    return Worked(
        "each mass times its distance from the right wheels, by the track; the lines are what each "
        "mass brings onto the left wheels",
        "static equilibrium: moments about the right wheels",
        (*donor_inputs(question)[:2], side, track),
        (
            *line_steps(lines, lever, 1000, "kg"),
            step("On the left wheels together", left_kg, "kg"),
            step("Kerb mass", kerb_kg, "kg"),
            step("Share on the left wheels", value, "%", 2),
        ),
        narrowed_by=("Weigh the vehicle's left and right side",),
    )
