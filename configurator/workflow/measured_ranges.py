"""What measurements change: every range before and after, and the mass that a test likely had."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from configurator.build_spec.driven_conditions import was_driven
from configurator.build_spec.settle import settle
from configurator.build_spec.spec import RangeLine
from configurator.build_spec.sums import DRIVER_KG
from configurator.catalog.models.measurements import Measurements
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import outline_of_draft
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises

MassFrom = Literal["weighed-finished", "computed", "weighed-donor", "catalog-donor"]


@dataclass(frozen=True)
class RangeMoved:
    """A driving case with nothing measured, and as measured."""

    before: RangeLine
    after: RangeLine
    was_driven: bool
    """A measured trip had such speeds and such air."""


@dataclass(frozen=True)
class RangesMoved:
    """Every driving case of a complete build; none while choices are open."""

    lines: tuple[RangeMoved, ...]
    open_groups: tuple[str, ...]
    """What the choices that are still open are about."""


@dataclass(frozen=True)
class UsualMass:
    """What a vehicle with its driver likely weighs in a test, and where that is from."""

    mass_kg: float
    comes_from: MassFrom


def ranges_moved(premises: Premises, draft: Draft, measured: Measurements) -> RangesMoved:
    """Compare every range of a draft with nothing measured and with measurements, kept or not.

    Raises
    ------
    ChoiceError
        If the vehicle is gone.
    MeasurementError
        If the measurements cannot be used on what is chosen.
    """
    bare, open_groups = _bare(premises, draft)
    if open_groups:
        return RangesMoved((), open_groups)
    asked = replace(draft, build=bare.build.model_copy(update={"measurements": measured}))
    before = {line.case_id: line for line in outline_of_draft(premises, bare).ranges}
    spec = outline_of_draft(premises, asked)
    cases = {case.id: case for case in premises.catalog.driving_cases}
    learnt = spec.vehicle.measured_road_load
    lines = (
        RangeMoved(before[line.case_id], line, was_driven(learnt, cases[line.case_id]))
        for line in spec.ranges
        if line.case_id in before
    )
    return RangesMoved(tuple(lines), ())


def usual_mass(
    premises: Premises, draft: Draft, vehicle_was: Literal["donor", "finished"]
) -> UsualMass:
    """Give what the finished vehicle weighs, or the donor; with a driver.

    Of the finished one its axle loads as built, else its computed kerb mass; where neither is
    known, and of the donor, that one's axle loads.

    Raises
    ------
    ChoiceError
        If the vehicle is gone.
    """
    bare, open_groups = _bare(premises, draft)
    built = draft.build.as_built
    if vehicle_was == "finished" and built is not None and built.weighed_kg is not None:
        return UsualMass(built.weighed_kg + DRIVER_KG, "weighed-finished")
    if vehicle_was == "finished" and not open_groups:
        kerb = outline_of_draft(premises, bare).fact("kerb_mass_kg", None)
        if kerb is not None:
            return UsualMass(kerb.low + DRIVER_KG, "computed")
    donor, vehicle = draft.build.donor, premises.catalog.vehicle_by_id[draft.build.vehicle]
    if donor.front_axle_kg is not None and donor.rear_axle_kg is not None:
        weighed_kg = donor.front_axle_kg + donor.rear_axle_kg
        return UsualMass(weighed_kg + DRIVER_KG, "weighed-donor")
    stated_kg = vehicle.donor_front_axle_kg + vehicle.donor_rear_axle_kg
    return UsualMass(stated_kg + DRIVER_KG, "catalog-donor")


def _bare(premises: Premises, draft: Draft) -> tuple[Draft, tuple[str, ...]]:
    """Leave out what was measured, and name the groups that are still open."""
    check_vehicle(premises.catalog, draft.build.vehicle)
    build = draft.build.model_copy(update={"measurements": Measurements()})
    compiled = premises.engines.compiled(premises.catalog, build)
    choices = settle(compiled, build).choices
    still_open = tuple(g.label for g in compiled.offer.groups if g.id not in choices)
    return replace(draft, build=build), still_open
