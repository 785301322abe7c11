"""What a complete build tells of its drive, and what it must warn of."""

from __future__ import annotations

import re
import statistics
from dataclasses import replace

import numpy as np
import pytest

from configurator.build_spec.driving_inputs import losses_of
from configurator.build_spec.engines import Engines
from configurator.build_spec.fast_road import fast_road_lines, speed_held_km_h
from configurator.build_spec.performance_doubt import Doubt
from configurator.build_spec.performance_facts import (
    CONTINUOUS_SHARE_OF_PEAK,
    MOTORWAY_SPEED_KM_H,
    Drive,
    drive_of,
    speed_by_power,
    steady_kw,
)
from configurator.build_spec.performance_findings import performance_findings
from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import AsBuilt
from configurator.catalog.models.component import Pack
from configurator.physics.acceleration import LONGEST_S, Resistance, seconds_to_speed
from configurator.physics.electrical_currents import terminal_power_w
from tests.build_spec.electrical_builds import limit
from tests.build_spec.tiny_builds import (
    build_of,
    changed,
    compiled_of,
    every_build,
    tiny_catalog,
    with_limits,
)

VEHICLE = tiny_catalog().vehicles[0].id
CHOICES = every_build(VEHICLE)[0].choices
VAN = Resistance(
    mass_kg=1100.0, drag_area_m2=1.4, rolling_resistance=0.014, air_density_kg_m3=1.225
)
SURE = Doubt(
    mass_kg=0,
    drag_area_m2=0,
    rolling_resistance=0,
    drag_rolling_correlation=0,
    gear=0,
    motor=0,
    battery=0,
)
DOUBT = replace(SURE, mass_kg=20.0, drag_area_m2=0.12, rolling_resistance=0.002, motor=0.03)


def complete() -> Spec:
    build = build_of(VEHICLE).model_copy(update={"choices": dict(CHOICES)})
    return specify(tiny_catalog(), build, Engines())


def drive(**of_pack: float) -> Drive:
    found = drive_of(compiled_of(tiny_catalog(), VEHICLE).book.parts_of(CHOICES))
    assert found is not None
    assert isinstance(found.pack, Pack)
    return replace(found, pack=found.pack.model_copy(update=of_pack))


def test_nothing_is_told_while_choices_are_open() -> None:
    assert () == specify(tiny_catalog(), build_of(VEHICLE), Engines()).performance


def test_what_is_told_agrees_with_the_facts() -> None:
    spec = complete()
    lines = {line.id: line for line in spec.performance}
    for line_id, name in (
        ("seconds-to-50", "seconds_to_50_km_h"),
        ("top-speed", "top_speed_km_h"),
    ):
        fact = spec.fact(name)
        assert fact is not None
        assert fact.low == lines[line_id].value


@pytest.mark.parametrize(("max_speed_rpm", "reaches"), [(9_000.0, False), (20_000.0, True)])
def test_no_power_is_to_spare_at_a_speed_that_the_gearing_does_not_allow(
    max_speed_rpm: float, *, reaches: bool
) -> None:
    catalog = with_limits(tiny_catalog())
    components = tuple(
        part.model_copy(update={"max_speed_rpm": max_speed_rpm}) if part.kind == "motor" else part
        for part in catalog.components
    )
    geared = changed(catalog, f"{max_speed_rpm} rpm", components=components)
    build = build_of(VEHICLE).model_copy(update={"choices": dict(CHOICES)})
    spec = specify(geared, build, Engines())
    [level] = [line for line in spec.performance if line.id == "motorway-level"]
    margin, top = spec.fact("motorway_power_margin_kw"), spec.fact("top_speed_km_h")
    assert margin is not None
    assert top is not None
    assert level.value is not None
    assert (level.margin is not None) == reaches
    given_kw = drive().continuous_kw if reaches else 0.0
    assert margin.low == pytest.approx(given_kw - level.value, abs=2e-3)
    away = spec.fact("seconds_to_60_mph")
    assert away is not None
    assert (away.low < LONGEST_S) or not reaches


def test_a_speed_that_the_gearing_does_not_allow_breaks_a_limit_on_its_time() -> None:
    catalog = tiny_catalog()
    components = tuple(
        part.model_copy(update={"max_speed_rpm": 4_000.0}) if part.kind == "motor" else part
        for part in catalog.components
    )
    slow = changed(catalog, "4000 rpm", components=components)
    asked = limit("seconds_to_60_mph", at_most=LONGEST_S - 1)
    compiled = compiled_of(with_limits(slow, asked), VEHICLE)
    [forms] = compiled.limits
    assert not forms.keeps(dict(CHOICES))


def test_a_vehicle_that_was_weighed_performs_with_the_mass_that_was_weighed() -> None:
    kerb_kg = complete().weights.kerb_low_kg
    build = build_of(VEHICLE).model_copy(update={"choices": dict(CHOICES)})
    same, heavier = (
        specify(
            tiny_catalog(),
            build.model_copy(
                update={
                    "as_built": AsBuilt(front_axle_kg=500, rear_axle_kg=kerb_kg - 500 + more_kg)
                }
            ),
            Engines(),
        )
        for more_kg in (0, 200)
    )
    for name, sign in (("seconds_to_50_km_h", 1), ("hill_restart_percent", -1)):
        before, after = same.fact(name), heavier.fact(name)
        assert before is not None
        assert after is not None
        assert sign * (after.low - before.low) > 0, name
    for line_id in ("seconds-to-50", "restart-laden"):
        assert told(same, line_id).note != told(heavier, line_id).note or (
            told(same, line_id).value != told(heavier, line_id).value
        )


def test_a_hill_is_told_by_the_lesser_of_drive_and_grip() -> None:
    spec = complete()
    by_drive = spec.fact("hill_restart_percent")
    told = [line for line in spec.performance if line.topic == "Restart on a hill"]
    assert by_drive is not None
    for line in told:
        assert line.value is not None
        assert ("grip" in line.limited_by) == (
            f"The drive allows {line.value:.1f} %" not in line.note
        )
    assert told[-1].value is not None
    assert told[-1].value <= by_drive.low


def test_a_battery_that_states_nothing_gives_half_of_its_peak_for_long() -> None:
    unstated, stated = drive(peak_discharge_kw=30.0), drive(continuous_discharge_kw=10.0)
    efficiency = unstated.motor.efficiency.value
    lost_kw = unstated.motor.no_load_loss_w / 1000
    left_kw = CONTINUOUS_SHARE_OF_PEAK * 30.0 - lost_kw
    assert left_kw * efficiency == pytest.approx(unstated.pack_continuous_kw)
    assert (10.0 - lost_kw) * efficiency == pytest.approx(stated.continuous_kw)
    assert speed_by_power(stated, VAN) < speed_by_power(unstated, VAN)


@pytest.mark.parametrize("efficiency_by_load", [{}, {0.05: 0.85, 0.2: 0.91, 0.5: 0.90, 1.0: 0.86}])
def test_the_battery_gives_at_the_shaft_what_the_drive_does_not_lose(
    efficiency_by_load: dict[float, float],
) -> None:
    weak = drive(peak_discharge_kw=20.0)
    motor = weak.motor.model_copy(update={"efficiency_by_load": efficiency_by_load})
    weak = replace(weak, motor=motor)
    losses = losses_of(motor)
    taken_w = terminal_power_w(
        mechanical_w=1000 * weak.peak_kw,
        efficiency=losses.efficiency,
        no_load_w=losses.no_load_w,
        per_w=losses.per_w,
    )
    assert pytest.approx(taken_w, rel=1e-9) == 20_000


def test_a_battery_too_weak_to_turn_the_drive_hardly_moves_it() -> None:
    idle = drive(peak_discharge_kw=0.5)
    lossy = replace(idle, motor=idle.motor.model_copy(update={"no_load_loss_w": 5000.0}))
    assert 0 < speed_by_power(lossy, VAN) < 0.1
    assert seconds_to_speed(lossy.pull, VAN, 50.0) == LONGEST_S


def test_on_the_level_the_speed_held_is_that_of_the_power() -> None:
    weak = drive(continuous_discharge_kw=5.0)
    assert speed_by_power(weak, VAN) == pytest.approx(speed_held_km_h(weak, VAN, 0.0), rel=1e-9)
    on_slope = speed_held_km_h(weak, VAN, 2.0)
    assert weak.continuous_kw == pytest.approx(steady_kw(weak, VAN, on_slope, 2.0), rel=1e-6)


def test_a_motor_that_states_how_long_it_bears_its_peak_is_told_a_time() -> None:
    fast = replace(
        drive(peak_discharge_kw=200.0),
        motor=drive().motor.model_copy(
            update={"peak_power_kw": 60.0, "max_speed_rpm": 14_000.0, "peak_seconds": 60.0}
        ),
    )
    level, _ = fast_road_lines(fast, VAN, SURE)
    assert "after about" in level.note
    silent = replace(fast, motor=fast.motor.model_copy(update={"peak_seconds": None}))
    level, _ = fast_road_lines(silent, VAN, SURE)
    assert "before it grows too warm" in level.note
    assert "after about" not in level.note


def test_what_is_borne_for_hours_is_not_told_to_the_minute() -> None:
    tall = replace(
        drive(continuous_discharge_kw=100.0, peak_discharge_kw=200.0),
        motor=drive().motor.model_copy(
            update={"peak_power_kw": 60.0, "max_speed_rpm": 14_000.0, "peak_seconds": 60.0}
        ),
    )
    needed_kw = steady_kw(tall, VAN, MOTORWAY_SPEED_KM_H)
    hardly = replace(
        tall, motor=tall.motor.model_copy(update={"continuous_power_kw": needed_kw - 1e-4})
    )
    level, _ = fast_road_lines(hardly, VAN, SURE)
    assert "after more than two hours slow down" in level.note


def fast_drive(spare_kw: float) -> Drive:
    tall = drive(continuous_discharge_kw=100.0, peak_discharge_kw=200.0)
    motor = tall.motor.model_copy(
        update={"peak_power_kw": 60.0, "max_speed_rpm": 14_000.0, "peak_seconds": 60.0}
    )
    tall = replace(tall, motor=motor)
    needed_kw = steady_kw(tall, VAN, MOTORWAY_SPEED_KM_H)
    lasting = motor.model_copy(update={"continuous_power_kw": needed_kw + spare_kw})
    return replace(tall, motor=lasting)


@pytest.mark.parametrize(
    ("spare_kw", "said", "codes"),
    [
        (0.5, "it may not hold this speed for long", ["F051"]),
        (15.0, "for as long as the charge lasts", []),
        (-0.5, "more than lasts, within the doubt", ["F051"]),
    ],
)
def test_room_within_its_doubt_is_no_promise(spare_kw: float, said: str, codes: list[str]) -> None:
    level, _ = fast_road_lines(fast_drive(spare_kw), VAN, DOUBT)
    assert said in level.note
    assert codes == [finding.code for finding in performance_findings([level])]


def test_the_time_at_the_worst_is_no_longer_than_the_likely_one() -> None:
    level, _ = fast_road_lines(fast_drive(-4.0), VAN, DOUBT)
    likely, worst = (float(found) for found in re.findall(r"after about ([0-9.]+) min", level.note))
    assert worst <= likely


def test_the_power_for_a_speed_is_as_doubtful_as_sampled_vehicles() -> None:
    # Source: seeded sampling of the same inputs, as independent of the first-order sum.
    chance, tall = np.random.default_rng(7), fast_drive(5.0)
    sampled = [
        steady_kw(
            tall,
            replace(
                VAN,
                mass_kg=chance.normal(VAN.mass_kg, DOUBT.mass_kg),
                drag_area_m2=chance.normal(VAN.drag_area_m2, DOUBT.drag_area_m2),
                rolling_resistance=chance.normal(VAN.rolling_resistance, DOUBT.rolling_resistance),
            ),
            MOTORWAY_SPEED_KM_H,
        )
        for _ in range(4000)
    ]
    level, _ = fast_road_lines(tall, VAN, DOUBT)
    assert statistics.stdev(sampled) == pytest.approx(level.sigma, rel=0.05)


def test_every_number_that_rests_on_doubted_inputs_tells_its_doubt() -> None:
    lines = complete().performance
    for line in lines:
        is_sure = line.id == "speed-by-motor" or line.value is None
        assert (line.sigma is None) == is_sure, line.id
    assert all(line.spread for line in lines if line.topic == "Fast road")


def test_a_top_speed_that_the_gearing_sets_is_surer_than_one_by_power() -> None:
    lines = {line.id: line for line in complete().performance}
    top, by_power = lines["top-speed"], lines["speed-by-power"]
    assert top.sigma is not None
    assert by_power.sigma is not None
    assert top.sigma <= by_power.sigma


def test_a_speed_that_the_gearing_does_not_allow_has_no_room_to_lack() -> None:
    short = drive(continuous_discharge_kw=5.0)
    assert short.geared_km_h < MOTORWAY_SPEED_KM_H
    lines = fast_road_lines(short, VAN, SURE)
    assert [None, None] == [line.margin for line in lines]
    assert [] == list(performance_findings(lines))
    tall = replace(short, motor=short.motor.model_copy(update={"max_speed_rpm": 14_000.0}))
    assert ["F051", "F051"] == [
        f.code for f in performance_findings(fast_road_lines(tall, VAN, SURE))
    ]


def with_places(at_x_m: dict[str, float], **changes: object) -> Spec:
    catalog = with_limits(tiny_catalog())
    van = next(vehicle for vehicle in catalog.vehicles if vehicle.id == VEHICLE)
    places = {
        name: place.model_copy(update={"x_m": at_x_m.get(name, place.x_m)})
        for name, place in van.places.items()
    }
    moved = van.model_copy(update={"places": places, **changes})
    others = tuple(vehicle for vehicle in catalog.vehicles if vehicle.id != VEHICLE)
    elsewhere = changed(catalog, f"{at_x_m}{changes}", vehicles=(moved, *others))
    build = build_of(VEHICLE).model_copy(update={"choices": dict(CHOICES)})
    return specify(elsewhere, build, Engines())


def told(spec: Spec, line_id: str) -> PerformanceLine:
    return next(line for line in spec.performance if line.id == line_id)


def seconds_on_wet(spec: Spec) -> float:
    found = re.search(r"about ([0-9.]+) s", told(spec, "seconds-to-50").note)
    assert found is not None
    return float(found[1])


def test_a_driver_right_above_the_front_axle_still_weighs_on_it() -> None:
    bench = tiny_catalog().vehicles[0].driver_place
    above, beside = (with_places({bench: x_m}, driven_axle="front") for x_m in (0.0, 1e-6))
    assert seconds_on_wet(above) == seconds_on_wet(beside)


@pytest.mark.parametrize(("axle", "grips"), [("rear", True), ("front", False)])
def test_an_axle_that_all_the_load_leaves_has_no_grip(axle: str, *, grips: bool) -> None:
    behind = dict.fromkeys(tiny_catalog().vehicles[0].places, 8.0)
    spec = with_places(behind, driven_axle=axle, donor_front_axle_kg=100.0)
    assert ("slip before" in told(spec, "seconds-to-50").note) != grips
    restart = told(spec, "restart-laden").value
    assert restart is not None
    assert (restart > 0) == grips
