"""What widens a range band is named with its share and its remedy."""

from __future__ import annotations

import pytest

from configurator.build_spec.derivations.explain import derive
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.build import Donor
from tests.build_spec.tiny_builds import build_of, changed, every_build, tiny_catalog

CATALOG = tiny_catalog()
VEHICLE = CATALOG.vehicles[0]


def lines_of(catalog, **changes):
    choices = every_build(VEHICLE.id)[0].choices
    build = build_of(VEHICLE.id).model_copy(update={"choices": choices, **changes})
    return specify(catalog, build, Engines()).ranges


def test_three_inputs_are_named_the_greatest_share_first() -> None:
    for line in lines_of(CATALOG):
        shares = [cause.variance_percent for cause in line.widened_by]
        assert len(shares) == 3
        assert sorted(shares, reverse=True) == shares
        assert 0 < sum(shares) <= 100.2
        assert all(cause.narrowed_by for cause in line.widened_by)


def test_an_input_that_nobody_knows_is_named_first_with_its_doubt() -> None:
    drag = VEHICLE.drag_area_m2.model_copy(update={"sigma_percent": 50.0, "basis": "guessed"})
    vehicles = tuple(
        each.model_copy(update={"drag_area_m2": drag}) if each.id == VEHICLE.id else each
        for each in CATALOG.vehicles
    )
    (first, *_), *_ = (
        line.widened_by for line in lines_of(changed(CATALOG, "?", vehicles=vehicles))
    )
    assert (first.input.id, first.input.basis) == ("drag-area", "guessed")
    assert first.input.sigma == pytest.approx(0.5 * first.input.value, rel=1e-4)


@pytest.mark.parametrize(
    ("donor", "basis"),
    [
        ({}, "catalog"),
        ({"front_axle_kg": VEHICLE.donor_front_axle_kg}, "catalog"),
        (
            {
                "front_axle_kg": VEHICLE.donor_front_axle_kg,
                "rear_axle_kg": VEHICLE.donor_rear_axle_kg,
            },
            "catalog",
        ),
    ],
)
def test_a_vehicle_that_nobody_built_has_no_measured_mass_even_of_a_weighed_donor(
    donor: dict[str, float], basis: str
) -> None:
    vehicles = tuple(
        each.model_copy(update={"mass_sigma_kg": 300.0}) if each.id == VEHICLE.id else each
        for each in CATALOG.vehicles
    )
    unsure = changed(CATALOG, "unsure of the mass", vehicles=vehicles)
    named = [
        {cause.input.id: cause.input.basis for cause in line.widened_by}
        for line in lines_of(unsure, donor=Donor(**donor))
    ]
    assert {basis} == {causes["mass"] for causes in named if "mass" in causes}


def test_a_cause_is_the_input_that_the_derivation_states() -> None:
    choices = every_build(VEHICLE.id)[0].choices
    build = build_of(VEHICLE.id).model_copy(update={"choices": choices})
    engines = Engines()
    for line in specify(CATALOG, build, engines).ranges:
        derived = derive(CATALOG, build, engines, "range_mid_km", line.case_id)
        assert derived is not None
        stated = {found.id: found for found in derived.inputs}
        for cause in line.widened_by:
            whole = stated[cause.input.id]
            assert (whole.basis, whole.source) == (cause.input.basis, cause.input.source)
            assert whole.value == pytest.approx(cause.input.value, abs=1e-6)
            assert whole.sigma == pytest.approx(cause.input.sigma, abs=1e-6)


def test_while_choices_are_open_nothing_is_blamed() -> None:
    assert all(line.widened_by == () for line in lines_of(CATALOG, choices={}))
