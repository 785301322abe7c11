"""A battery that was measured drives and charges with its measured capacity, and surer."""

from __future__ import annotations

import math

import pytest

from configurator.build_spec.band_causes import MEASURED_ALREADY
from configurator.build_spec.derivations.explain import derive
from configurator.build_spec.engines import Engines
from configurator.build_spec.measured_vehicle import CAPACITY_SIGMA_PERCENT
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import RangeLine, Spec
from configurator.catalog.models.build import AsBuilt, BuildInput
from configurator.catalog.models.component import Pack
from configurator.catalog.models.rule import FactName
from tests.build_spec.tiny_builds import build_of, every_build, tiny_catalog

CATALOG = tiny_catalog()
VEHICLE = CATALOG.vehicles[0]
CASE = next(case.id for case in CATALOG.driving_cases if case.battery == "new")
SOURCE = CATALOG.workshop.overnight_source


def build(as_built: AsBuilt | None = None) -> BuildInput:
    choices = every_build(VEHICLE.id)[3].choices
    return build_of(VEHICLE.id).model_copy(update={"choices": choices, "as_built": as_built})


def spec_of(as_built: AsBuilt | None = None) -> Spec:
    return specify(CATALOG, build(as_built), Engines())


def line_of(spec: Spec) -> RangeLine:
    return next(line for line in spec.ranges if line.case_id == CASE)


def log_width(line: RangeLine) -> float:
    return math.log(line.high_km / line.low_km)


def nominal_kwh(spec: Spec) -> float:
    pack = spec.component("pack")
    assert isinstance(pack, Pack)
    return pack.capacity_kwh


def test_usable_energy_and_charging_time_scale_with_the_measured_capacity() -> None:
    before = spec_of()
    after = spec_of(AsBuilt(pack_capacity_kwh=0.9 * nominal_kwh(before)))
    asked: tuple[tuple[FactName, str | None], ...] = (
        ("usable_energy_kwh", None),
        ("charging_hours", SOURCE),
    )
    for name, case in asked:
        old, new = before.fact(name, case), after.fact(name, case)
        assert old is not None
        assert new is not None
        assert 0.9 * old.low == pytest.approx(new.low, rel=1e-3)
    old_line, new_line = (
        next(line for line in spec.charging if line.source_id == SOURCE) for spec in (before, after)
    )
    assert 0.9 * old_line.low_hours == pytest.approx(new_line.low_hours, rel=1e-3)
    assert 0.9 * (old_line.mains_kwh or 0) == pytest.approx(new_line.mains_kwh, rel=2e-2)


def test_the_range_falls_with_a_weak_battery_and_grows_with_a_good_one() -> None:
    before = spec_of()
    weak, same, good = (
        line_of(spec_of(AsBuilt(pack_capacity_kwh=share * nominal_kwh(before)))).mid_km or 0
        for share in (0.9, 1.0, 1.1)
    )
    assert weak < same < good
    assert (line_of(before).mid_km or 0) == pytest.approx(same, rel=1e-6)
    # The inner loss of the battery makes it a little less than in proportion.
    assert 0.9 == pytest.approx(weak / same, rel=1e-2)


def test_measuring_narrows_the_band_to_the_doubt_of_the_instrument() -> None:
    before = spec_of()
    kwh = nominal_kwh(before)
    stated, coarse, assumed = (
        log_width(
            line_of(spec_of(AsBuilt(pack_capacity_kwh=kwh, pack_capacity_sigma_percent=percent)))
        )
        for percent in (0.5, 2.5, None)
    )
    assert stated < assumed < coarse < log_width(line_of(before))
    same = AsBuilt(pack_capacity_kwh=kwh, pack_capacity_sigma_percent=CAPACITY_SIGMA_PERCENT)
    assert log_width(line_of(spec_of(same))) == assumed


def test_what_narrows_it_is_not_asked_for_again() -> None:
    before = spec_of()
    after = spec_of(AsBuilt(pack_capacity_kwh=nominal_kwh(before), pack_capacity_sigma_percent=4))
    told = {
        cause.input.id: (cause.input.basis, cause.narrowed_by)
        for cause in line_of(after).widened_by
    }
    assert ("measured", MEASURED_ALREADY) == told["usable-energy"]


def test_the_workings_say_that_the_capacity_was_measured() -> None:
    measured = AsBuilt(pack_capacity_kwh=11, pack_capacity_sigma_percent=0.8)
    derived = derive(CATALOG, build(measured), Engines(), "usable_energy_kwh", None)
    assert derived is not None
    capacity = derived.inputs[0]
    assert ("measured", 11.0) == (capacity.basis, capacity.value)
    assert 11 * 0.008 == pytest.approx(capacity.sigma)
    assert "measured on this very battery" in capacity.source
    of_range = derive(CATALOG, build(measured), Engines(), "range_low_km", CASE)
    assert of_range is not None
    energy = next(stated for stated in of_range.inputs if stated.id == "usable-energy")
    assert "measured" == energy.basis


def test_the_component_stays_as_the_catalog_has_it() -> None:
    before = spec_of()
    after = spec_of(AsBuilt(pack_capacity_kwh=0.9 * nominal_kwh(before)))
    assert before.component("pack") == after.component("pack")


def test_while_choices_are_open_a_measured_battery_changes_nothing() -> None:
    def open_spec(as_built: AsBuilt | None) -> Spec:
        told = build(as_built).model_copy(update={"choices": {}})
        return specify(CATALOG, told, Engines())

    before, after = open_spec(None), open_spec(AsBuilt(pack_capacity_kwh=11))
    assert (before.ranges, before.facts) == (after.ranges, after.facts)
