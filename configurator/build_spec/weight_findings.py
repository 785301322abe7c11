"""Findings about weights: what may be beyond its limit, what is as weighed, what is guessed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.build_spec.spec import Finding
from configurator.build_spec.sums import donor_height_m
from configurator.build_spec.weight_words import (
    OF_THE_EMPTY_VEHICLE,
    bound_words,
    compared_of,
    value_words,
    when_words,
)
from configurator.build_spec.weights_result import WeightCheck
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.centre_of_gravity import GUESSED_HEIGHT_SIGMA_PERCENT

NEEDS_A_WEIGHBRIDGE = (
    "Weigh each axle before handover and enter both figures. Beyond its limit a tyre, a wheel or "
    "a brake may fail: do not drive it laden until the weighbridge says so."
)

WEIGH_IT_LADEN = (
    "Weigh each axle again with the vehicle loaded as stated, before anybody drives it so. Beyond "
    "its limit a tyre, a wheel or a brake may fail."
)
WEIGH_IT_AGAIN = "Weigh each axle again, empty and on level ground, and have the engineer look."


def weight_findings(vehicle: Vehicle, checks: Sequence[WeightCheck]) -> list[Finding]:
    """List what the checks of a complete build leave open, and what rests on a guess."""
    return [*_checks(checks), *_guessed_height(vehicle)]


def without_near(findings: Sequence[Finding]) -> list[Finding]:
    """Leave out that a fact is near its limit where it may be beyond it."""
    doubtful = {finding.subject for finding in findings if finding.code == "F027"}
    return [f for f in findings if f.code != "F004" or f.subject not in doubtful]


def _checks(checks: Sequence[WeightCheck]) -> Iterator[Finding]:
    for check in checks:
        if check.verdict == "may be beyond":
            yield _finding(check, "F027", "May be beyond its limit.")
        elif check.verdict == "beyond" and check.is_weighed:
            yield _finding(check, "F028", "As weighed, not kept.")
        elif check.verdict == "beyond" and _keeps_its_fact(check):
            yield _finding(check, "F027", "Beyond its limit where the load usually goes.")


def _keeps_its_fact(check: WeightCheck) -> bool:
    """Tell whether the fact alone keeps the limit, so that no other finding tells of it."""
    if check.bound_is == "at most":
        return check.value <= check.bound
    return check.value >= check.bound


def _finding(check: WeightCheck, code: str, sentence: str) -> Finding:
    is_broken, seen = code == "F028", compared_of(check)
    when = f" {when_words(check)}" if seen.when else ""
    compared = f"{check.label}: {value_words(check)}, {bound_words(check)}.{when}"
    return Finding(
        code=code,
        severity=check.severity if is_broken else "warns",
        subject=check.limit_id,
        sentence=f"{sentence} {compared} {check.because}",
        value=seen.value,
        bound=seen.bound,
        unit=seen.unit,
        source=check.source,
        remedy=_mend(check) if is_broken else _remedy(check),
    )


def _mend(check: WeightCheck) -> str:
    """Say what can help a weighed vehicle; what is carried cannot move how it stands empty."""
    unless = "" if check.severity == "blocks" else " before the engineer has written why it may be"
    if check.fact in OF_THE_EMPTY_VEHICLE:
        return (
            f"Do not hand it over so{unless}: what is carried cannot mend it. Weigh it again, then "
            "move or change heavy parts, or have the engineer look at springs, brakes and tyres."
        )
    return (
        f"Do not hand it over so{unless}: change what is carried, or have the engineer look at it."
    )


def _remedy(check: WeightCheck) -> str:
    if check.fact in {"centre_of_gravity_height_m", "rollover_threshold_g"}:
        return (
            "Have the height of the centre of gravity measured: weigh one axle level and again "
            "with the other one raised, on stands made for it; a competent person does it."
        )
    if check.fact == "rear_braking_share_percent":
        return (
            "Weigh each axle, and have a competent person set and test the brakes, with a limiter "
            "for the rear ones where they ask for it, before the first drive on a road."
        )
    if check.fact == "left_share_percent":
        return "Weigh the wheels of each side of the donor and enter both figures."
    if check.verdict == "beyond":
        return "Carry no more than that, place it so that each axle keeps its limit, or go lighter."
    if check.is_weighed:
        return WEIGH_IT_LADEN if check.fact not in OF_THE_EMPTY_VEHICLE else WEIGH_IT_AGAIN
    return NEEDS_A_WEIGHBRIDGE


def _guessed_height(vehicle: Vehicle) -> Iterator[Finding]:
    if vehicle.donor_cg_height_m is not None:
        return
    guessed = donor_height_m(vehicle)
    yield Finding(
        code="F026",
        severity="notes",
        subject=f"{vehicle.id}.donor_cg_height_m",
        sentence=(
            f"{vehicle.label}: the height of the donor's centre of gravity, {guessed:.2f} m, is "
            f"guessed from the height of its roof, give or take "
            f"{2 * GUESSED_HEIGHT_SIGMA_PERCENT:.0f} %. Until it is measured, tipping and "
            "braking are told as a wider band."
        ),
        value=round(guessed, 4),
        unit="m",
        source="measured cars, vans and pickups, 0.37 to 0.41 of the roof's height; from memory",
        remedy=(
            "Measure it: weighing one axle with the other raised on stands narrows it; a competent "
            "person does it."
        ),
    )
