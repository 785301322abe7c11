"""What a complete build tells of its drive, and what it must warn of."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from configurator.build_spec.driving_inputs import losses_of
from configurator.build_spec.engines import Engines
from configurator.build_spec.fast_road import fast_road_lines, speed_held_km_h
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
from configurator.catalog.models.component import Pack
from configurator.physics.acceleration import LONGEST_S, Resistance, seconds_to_speed
from configurator.physics.electrical_currents import terminal_power_w
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
    margin, needed_kw = spec.fact("motorway_power_margin_kw"), lines["motorway-level"].value
    assert margin is not None
    assert needed_kw is not None
    assert margin.low == pytest.approx(drive().continuous_kw - needed_kw, abs=1e-3)


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
    level, _ = fast_road_lines(fast, VAN)
    assert "after about" in level.note
    silent = replace(fast, motor=fast.motor.model_copy(update={"peak_seconds": None}))
    level, _ = fast_road_lines(silent, VAN)
    assert "before it grows too warm" in level.note
    assert "after about" not in level.note


def test_a_speed_that_the_gearing_does_not_allow_has_no_room_to_lack() -> None:
    short = drive(continuous_discharge_kw=5.0)
    assert short.geared_km_h < MOTORWAY_SPEED_KM_H
    lines = fast_road_lines(short, VAN)
    assert [None, None] == [line.margin for line in lines]
    assert [] == list(performance_findings(lines))
    tall = replace(short, motor=short.motor.model_copy(update={"max_speed_rpm": 14_000.0}))
    assert ["F051", "F051"] == [f.code for f in performance_findings(fast_road_lines(tall, VAN))]


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


def line(topic: str, margin: float | None) -> PerformanceLine:
    return PerformanceLine.model_validate(
        {
            "id": "a",
            "topic": topic,
            "label": "Label",
            "value": 14.0,
            "unit": "%",
            "decimals": 0,
            "margin": margin,
            "note": "Note.",
            "how": "how",
            "source": "invented for tests",
        }
    )


@pytest.mark.parametrize(
    ("topic", "margin", "codes"),
    [
        ("Fast road", -3.0, ["F051"]),
        ("Fast road", 0.0, []),
        ("Restart on a hill", -4.0, ["F052"]),
        ("Restart on a hill", None, []),
        ("Top speed", -1.0, []),
    ],
)
def test_what_lacks_room_is_found(topic: str, margin: float | None, codes: list[str]) -> None:
    assert codes == [finding.code for finding in performance_findings([line(topic, margin)])]


def test_a_finding_compares_what_is_with_what_is_asked() -> None:
    [slips] = performance_findings([line("Restart on a hill", -4.0)])
    [warm] = performance_findings([line("Fast road", -3.0)])
    assert (14.0, 18.0) == (slips.value, slips.bound)
    assert (14.0, 11.0) == (warm.value, warm.bound)


def test_a_slope_on_which_the_tyres_slip_is_never_rounded_up() -> None:
    [slips] = performance_findings(
        [line("Restart on a hill", -4.0).model_copy(update={"value": 14.7})]
    )
    assert "slip above 14 %" in slips.sentence
