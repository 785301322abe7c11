"""What measurements change is told where they count, and a mass says where it is from."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest

from configurator.catalog.models.build import AsBuilt, Donor
from configurator.catalog.models.measurements import MeasuredTrip, Measurements
from configurator.errors import MeasurementError
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import outline_of_draft, set_house_choices
from configurator.workflow.measured_ranges import ranges_moved, usual_mass
from configurator.workflow.measurements import set_measurements
from configurator.workflow.premises import Premises

TRIP = MeasuredTrip(driven_on=date(2026, 3, 1), case="lane", km=40, energy_kwh=6)


@pytest.fixture
def complete(premises: Premises, enquiry: Callable[..., str], now: datetime) -> Draft:
    reference = enquiry(vehicle="clover-float")
    return set_house_choices(premises, reference, revision=1, wanted=True, now=now)


def test_while_choices_are_open_it_is_said_which(
    premises: Premises, enquiry: Callable[..., str]
) -> None:
    draft = read_draft(premises, enquiry(vehicle="clover-float"))
    moved = ranges_moved(premises, draft, Measurements(trips=(TRIP,)))
    spec = outline_of_draft(premises, draft)
    assert () == moved.lines
    assert tuple(group.group_label for group in spec.open_groups) == moved.open_groups
    assert moved.open_groups


def test_before_is_the_catalog_alone_and_after_is_what_keeping_gives(
    premises: Premises, complete: Draft, now: datetime
) -> None:
    measured = Measurements(trips=(TRIP,))
    bare = outline_of_draft(premises, complete).ranges
    reference, revision = complete.build.reference, complete.revision
    kept = set_measurements(premises, reference, revision=revision, measurements=measured, now=now)
    for draft in (complete, kept):
        moved = ranges_moved(premises, draft, measured)
        assert bare == tuple(line.before for line in moved.lines)
        assert outline_of_draft(premises, kept).ranges == tuple(line.after for line in moved.lines)
        driven = {line.before.case_id for line in moved.lines if line.was_driven}
        assert {"lane"} == driven


def test_a_trip_too_far_from_what_was_computed_is_refused_before_it_is_kept(
    premises: Premises, complete: Draft, now: datetime
) -> None:
    far = Measurements(trips=(TRIP.model_copy(update={"energy_kwh": 110.0}),))
    reference = complete.build.reference
    with pytest.raises(MeasurementError, match="trip 1: it took"):
        set_measurements(premises, reference, revision=complete.revision, measurements=far, now=now)
    assert complete.build == read_draft(premises, reference).build


# Source: common practice, no source: a driver is 75 kg.
def test_the_mass_is_the_computed_one_once_all_is_chosen_and_the_donors_before(
    premises: Premises, complete: Draft, enquiry: Callable[..., str]
) -> None:
    vehicle = premises.catalog.vehicle_by_id["clover-float"]
    donor_kg = vehicle.donor_front_axle_kg + vehicle.donor_rear_axle_kg
    kerb = outline_of_draft(premises, complete).fact("kerb_mass_kg")
    assert kerb is not None
    found = usual_mass(premises, complete, "finished")
    assert (kerb.low + 75, "computed") == (found.mass_kg, found.comes_from)
    assert "catalog-donor" == usual_mass(premises, complete, "donor").comes_from
    still_open = read_draft(premises, enquiry(vehicle="clover-float"))
    found = usual_mass(premises, still_open, "finished")
    assert (donor_kg + 75, "catalog-donor") == (found.mass_kg, found.comes_from)


def test_a_weighed_donor_is_taken_before_the_catalog(premises: Premises, complete: Draft) -> None:
    donor = Donor(front_axle_kg=410.0, rear_axle_kg=395.0)
    build = complete.build.model_copy(update={"donor": donor})
    weighed = Draft(**{**complete.__dict__, "build": build})
    found = usual_mass(premises, weighed, "donor")
    assert (880.0, "weighed-donor") == (found.mass_kg, found.comes_from)


def test_a_finished_vehicle_that_was_weighed_is_taken_before_what_was_computed(
    premises: Premises, complete: Draft
) -> None:
    built = AsBuilt(front_axle_kg=430.0, rear_axle_kg=420.0)
    build = complete.build.model_copy(update={"as_built": built})
    found = usual_mass(premises, Draft(**{**complete.__dict__, "build": build}), "finished")
    assert (925.0, "weighed-finished") == (found.mass_kg, found.comes_from)
