"""What was weighed, coasted down and driven takes the place of what the catalog assumes."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from configurator.build_spec.derivations.explain import derive
from configurator.build_spec.driven_conditions import was_driven
from configurator.build_spec.engines import Engines
from configurator.build_spec.measured_vehicle import coast_down_fit
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import RangeLine, Spec
from configurator.build_spec.weight_doubt import WEIGHBRIDGE_SIGMA_KG
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import AsBuilt, BuildInput, Donor
from configurator.catalog.models.measurements import (
    CoastDown,
    CoastDownRun,
    MeasuredTrip,
    Measurements,
)
from configurator.errors import MeasurementError
from configurator.physics.air_density import air_density_kg_m3
from tests.build_spec.tiny_builds import changed, every_build, tiny_catalog

CATALOG = tiny_catalog()
VEHICLE = CATALOG.vehicles[0]
CASE = next(case.id for case in CATALOG.driving_cases if case.battery == "new")
DRAG_AREA_M2, ROLLING, TEST_KG = 1.31, 0.0104, 1260.0


def complete(**changes: Any) -> BuildInput:
    from tests.build_spec.tiny_builds import build_of

    choices = every_build(VEHICLE.id)[3].choices
    return build_of(VEHICLE.id).model_copy(update={"choices": choices, **changes})


def spec_of(build: BuildInput) -> Spec:
    return specify(CATALOG, build, Engines())


def line_of(spec: Spec) -> RangeLine:
    return next(line for line in spec.ranges if line.case_id == CASE)


def log_width(line: RangeLine) -> float:
    return math.log(line.high_km / line.low_km)


def coast_down(vehicle_was: str = "finished") -> CoastDown:
    """Two runs of a vehicle with a known drag, integrated in steps of a hundredth of a second."""
    density, times, speeds = air_density_kg_m3(12.0, 0.0), [], []
    speed = 85 / 3.6
    for step in range(9001):
        if step % 250 == 0:
            times.append(step / 100)
            speeds.append(3.6 * speed)
        force = 0.5 * density * DRAG_AREA_M2 * speed**2 + TEST_KG * 9.80665 * ROLLING
        speed = max(speed - 0.01 * force / (1.03 * TEST_KG), 0.0)
    moving = [number for number, each in enumerate(speeds) if each > 15]
    run = CoastDownRun(
        time_s=tuple(times[n] for n in moving), speed_km_h=tuple(speeds[n] for n in moving)
    )
    return CoastDown(
        measured_on=date(2026, 5, 4),
        vehicle_was=vehicle_was,
        mass_kg=TEST_KG,
        temperature_c=12.0,
        runs=(run, run),
    )


def test_a_weighed_donor_makes_mass_and_range_surer() -> None:
    weighed = Donor(
        front_axle_kg=VEHICLE.donor_front_axle_kg, rear_axle_kg=VEHICLE.donor_rear_axle_kg
    )
    before, after = spec_of(complete()), spec_of(complete(donor=weighed))
    assert after.vehicle.mass_sigma_kg < before.vehicle.mass_sigma_kg
    assert log_width(line_of(after)) < log_width(line_of(before))
    assert line_of(before).mid_km == line_of(after).mid_km


def test_a_weighed_finished_vehicle_drives_with_the_mass_that_was_weighed() -> None:
    before = spec_of(complete())
    kerb_kg = before.weights.kerb_low_kg
    same, heavier = (
        spec_of(complete(as_built=AsBuilt(front_axle_kg=500, rear_axle_kg=kerb_kg - 500 + more_kg)))
        for more_kg in (0, 80)
    )
    assert line_of(before).mid_km == pytest.approx(line_of(same).mid_km, rel=1e-6)
    assert log_width(line_of(same)) < log_width(line_of(before))
    assert line_of(heavier).mid_km < line_of(same).mid_km
    assert before.weights.kerb_low_kg == heavier.weights.kerb_low_kg


def test_the_mass_of_a_weighed_finished_vehicle_is_told_as_measured() -> None:
    kerb_kg = spec_of(complete()).weights.kerb_low_kg
    build = complete(as_built=AsBuilt(front_axle_kg=500, rear_axle_kg=kerb_kg - 450))
    derived = derive(CATALOG, build, Engines(), "range_low_km", CASE)
    assert derived is not None
    mass = next(stated for stated in derived.inputs if stated.id == "mass")
    assert "measured" == mass.basis
    assert math.sqrt(2) * WEIGHBRIDGE_SIGMA_KG == pytest.approx(mass.sigma)
    assert line_of(spec_of(build)).low_km == pytest.approx(derived.steps[-1].value, abs=1e-3)


def test_a_weighed_vehicle_with_open_choices_drives_as_computed() -> None:
    built = AsBuilt(front_axle_kg=900, rear_axle_kg=900)
    before, after = spec_of(complete(choices={})), spec_of(complete(choices={}, as_built=built))
    assert before.ranges == after.ranges


def test_a_finished_vehicle_that_coasted_down_has_what_was_measured_and_options_count_once() -> (
    None
):
    spec = spec_of(complete(measurements=Measurements(coast_down=coast_down())))
    tyres = tuple(
        part.model_copy(
            update={
                "rolling_resistance": part.rolling_resistance.model_copy(update={"value": ROLLING})
            }
        )
        if part.kind == "tyre"
        else part
        for part in CATALOG.components
    )
    bare = [
        group.model_copy(
            update={
                "options": tuple(
                    option.model_copy(
                        update={
                            "effects": option.effects.model_copy(
                                update={"drag_area_m2": 0.0, "rolling_resistance": 0.0}
                            )
                        }
                    )
                    for option in group.options
                )
            }
        )
        for group in CATALOG.groups
    ]
    drag = VEHICLE.drag_area_m2.model_copy(update={"value": DRAG_AREA_M2})
    vehicles = tuple(
        each.model_copy(update={"drag_area_m2": drag}) if each.id == VEHICLE.id else each
        for each in CATALOG.vehicles
    )
    stated = changed(CATALOG, "as stated", components=tyres, groups=tuple(bare), vehicles=vehicles)
    expected = line_of(specify(stated, complete(), Engines())).mid_km
    assert expected == pytest.approx(line_of(spec).mid_km, rel=2e-3)
    assert "measured" == spec.vehicle.drag_area_m2.basis
    assert log_width(line_of(spec)) < log_width(line_of(spec_of(complete())))


def test_what_was_measured_on_the_finished_vehicle_waits_while_choices_are_open() -> None:
    build = complete(measurements=Measurements(coast_down=coast_down()))
    fewer = dict(list(build.choices.items())[:-1])
    open_build = build.model_copy(update={"choices": fewer})
    assert "catalog" == spec_of(open_build).vehicle.drag_area_m2.basis


def test_a_donor_that_coasted_down_tells_its_drag_and_keeps_the_chosen_tyres() -> None:
    spec = spec_of(complete(measurements=Measurements(coast_down=coast_down("donor"))))
    assert pytest.approx(spec.vehicle.drag_area_m2.value, rel=5e-3) == DRAG_AREA_M2
    assert spec.vehicle.measured_road_load.rolling_resistance is None


# Source: normal law, the more trips the nearer to what they say.
def test_trips_move_the_consumption_towards_what_they_took_and_narrow_the_band() -> None:
    computed = line_of(spec_of(complete()))
    assert computed.consumption_wh_per_km is not None
    kwh = 1.12 * computed.consumption_wh_per_km * 40 / 1000
    trip = MeasuredTrip(driven_on=date(2026, 6, 1), case=CASE, km=40, energy_kwh=kwh)
    one = line_of(spec_of(complete(measurements=Measurements(trips=(trip,)))))
    many = line_of(spec_of(complete(measurements=Measurements(trips=(trip,) * 40))))
    assert one.consumption_wh_per_km is not None
    assert many.consumption_wh_per_km is not None
    assert computed.consumption_wh_per_km < one.consumption_wh_per_km < many.consumption_wh_per_km
    assert many.consumption_wh_per_km == pytest.approx(
        1.12 * computed.consumption_wh_per_km, rel=0.02
    )
    assert log_width(many) < log_width(one) < log_width(computed)


# Source: common practice, no source: a trip in one weather and speed tells less of another.
def test_trips_tell_less_of_a_driving_case_unlike_those_that_were_driven() -> None:
    computed = {line.case_id: line for line in spec_of(complete()).ranges}
    lane = computed["lane"]
    assert lane.consumption_wh_per_km is not None
    kwh = 1.12 * lane.consumption_wh_per_km * 40 / 1000
    trip = MeasuredTrip(driven_on=date(2026, 6, 1), case="lane", km=40, energy_kwh=kwh)
    driven = spec_of(complete(measurements=Measurements(trips=(trip,) * 20))).ranges
    narrowed = {
        each.case_id: log_width(each) / log_width(computed[each.case_id]) for each in driven
    }
    moved = {each.case_id: each.mid_km / computed[each.case_id].mid_km for each in driven}
    for unlike in ("round-in-june", "round-in-january"):
        assert narrowed["lane"] < narrowed[unlike] < 1
        assert moved["lane"] < moved[unlike] < 1


def test_trips_tell_as_much_of_another_case_in_the_same_air_and_speeds() -> None:
    lane = next(case for case in CATALOG.driving_cases if case.id == "lane")
    laden = lane.model_copy(update={"id": "lane-laden", "load": "laden", "steady_km_h": 50.0})
    winter = lane.model_copy(update={"id": "lane-in-frost", "temperature_c": -5.0})
    catalog = changed(CATALOG, "lanes", driving_cases=(*CATALOG.driving_cases, laden, winter))
    trip = MeasuredTrip(driven_on=date(2026, 6, 1), case="lane", km=40, energy_kwh=6)
    build = complete(measurements=Measurements(trips=(trip,)))
    learnt = specify(catalog, build, Engines()).vehicle.measured_road_load
    assert was_driven(learnt, lane)
    assert was_driven(learnt, laden)
    assert not was_driven(learnt, winter)
    assert learnt.doubt_left < learnt.doubt_left_elsewhere < 1


def test_a_trip_far_from_what_was_computed_is_refused() -> None:
    trip = MeasuredTrip(driven_on=date(2026, 6, 1), case=CASE, km=40, energy_kwh=119)
    with pytest.raises(MeasurementError, match="trip 1: it took"):
        spec_of(complete(measurements=Measurements(trips=(trip,))))


def test_a_measured_drag_below_what_the_choices_alone_bring_is_refused() -> None:
    groups = tuple(
        group.model_copy(
            update={
                "options": tuple(
                    option.model_copy(
                        update={"effects": option.effects.model_copy(update={"drag_area_m2": 0.9})}
                    )
                    for option in group.options
                )
            }
        )
        for group in CATALOG.groups
    )
    bulky = changed(CATALOG, "bulky", groups=groups)
    build = complete(measurements=Measurements(coast_down=coast_down()))
    with pytest.raises(MeasurementError, match="the choices alone bring"):
        specify(bulky, build, Engines())


# Source: computed: a steady 2 m/s along the road moves drag area and rolling resistance by 3 %.
def test_runs_without_any_scatter_still_leave_the_doubt_of_the_day() -> None:
    fit = coast_down_fit(coast_down())
    assert fit.drag_area_sigma_m2 >= 0.03 * fit.drag_area_m2
    assert fit.rolling_resistance_sigma >= 0.03 * fit.rolling_resistance
    assert -1 <= fit.correlation <= 0


def test_a_range_says_what_was_measured_on_the_road_and_nothing_else_does() -> None:
    plain = spec_of(complete(as_built=AsBuilt(front_axle_kg=500, rear_axle_kg=600)))
    assert not [line for line in plain.ranges if "measured" in line.conditions]
    rolled = spec_of(complete(measurements=Measurements(coast_down=coast_down("donor"))))
    wanted = "; measured on the road: coast-down of 4 May 2026"
    assert rolled.ranges
    assert all(line.conditions.endswith(wanted) for line in rolled.ranges)
    km = line_of(plain).mid_km or 0.0
    trip = MeasuredTrip(
        driven_on=date(2026, 5, 4),
        case=CASE,
        km=40,
        energy_kwh=0.04 * (line_of(plain).consumption_wh_per_km or 0.0),
    )
    driven = spec_of(complete(measurements=Measurements(trips=(trip,))))
    assert km > 0
    assert all(
        line.conditions.endswith("; measured on the road: measured trips") for line in driven.ranges
    )


def test_a_vehicle_that_was_weighed_does_not_ask_for_its_donor_to_be_weighed() -> None:
    # Source: common practice, no source: the weighbridge of the finished vehicle counts.
    folder = Path(__file__).parents[2] / "catalog"
    catalog = load_catalog(folder)
    measured = load_build(Path(__file__).parents[1] / "catalogs" / "measured_pickup.yaml", catalog)
    unweighed = measured.model_copy(update={"donor": Donor()})
    told = {finding.code for finding in specify(catalog, unweighed, Engines()).findings}
    assert "F008" not in told
    before = unweighed.model_copy(update={"as_built": None})
    assert "F008" in {finding.code for finding in specify(catalog, before, Engines()).findings}
