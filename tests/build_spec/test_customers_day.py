"""A customer's day against what is known without it: driving cases, sums, hills, a battery."""

from __future__ import annotations

import math
import re
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.build_spec.customers_day import customers_day
from configurator.build_spec.day_charging import Halfway
from configurator.build_spec.day_result import DayResult
from configurator.build_spec.day_trip import legs_by_road
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.day import CustomersDay, DayRoads, Trailer
from configurator.catalog.models.group import Effects
from configurator.catalog.models.measurements import MeasuredTrip, Measurements
from configurator.catalog.models.workshop import DrivingCase
from tests.build_spec.tiny_builds import build_of, changed, every_build, tiny_catalog

CATALOG = tiny_catalog()
ENGINES = Engines()
FLOAT = CATALOG.vehicles[0].id
EXACT = 1e-3
"""What the Spec stores is rounded to this, in km, kWh and per cent."""


def house_build(day: CustomersDay | None, **choices: str) -> BuildInput:
    build = build_of(FLOAT, **choices)
    return build.model_copy(update={"day": day, "house_choices_for_the_rest": True})


def driven(**day: object) -> DayResult:
    result = customers_day(ENGINES.compiled(CATALOG, build_of(FLOAT)), house_build(_day(**day)))
    assert result is not None
    return result


def _day(**day: object) -> CustomersDay:
    return CustomersDay.model_validate({"temperature_c": 20, "reserve_percent": 0, **day})


def day_of_case(case: DrivingCase, km: float) -> CustomersDay:
    """The day that is nothing but a driving case: its road, load, weather, age of battery."""
    road = "motorway_km" if case.steady_km_h else "town_km"
    speed = {"motorway_km_h": case.steady_km_h} if case.steady_km_h else {}
    return _day(
        **{road: km},
        **speed,
        temperature_c=case.temperature_c,
        load=case.load,
        preheats=True,
        battery_c=case.pack_c,
        altitude_m=case.altitude_m,
    )


@pytest.mark.parametrize("case", CATALOG.driving_cases, ids=lambda case: case.id)
def test_a_day_that_is_one_driving_case_has_that_cases_range(case: DrivingCase) -> None:
    spec = specify(CATALOG, house_build(day_of_case(case, 25.0)), ENGINES)
    line = next(line for line in spec.ranges if line.case_id == case.id)
    assert spec.day is not None
    ending = spec.day.new if case.battery == "new" else spec.day.aged
    assert line.low_km - 25.0 == pytest.approx(ending.spare_low_km, abs=2 * EXACT)
    assert line.mid_km - 25.0 == pytest.approx(ending.spare_mid_km, abs=2 * EXACT)
    assert 100 * (1 - 25.0 / line.high_km) == pytest.approx(ending.left_high_percent, abs=EXACT)
    used_kwh = line.consumption_wh_per_km * 25.0 / 1000
    assert used_kwh == pytest.approx(ending.used_mid_kwh, abs=2 * EXACT)


@pytest.mark.parametrize("climbed_m", [0, 200])
def test_the_energy_of_the_legs_adds_up_to_what_the_day_takes(climbed_m: int) -> None:
    result = driven(
        town_km=8, country_km=15, motorway_km=6, climbed_m=climbed_m, descended_m=climbed_m
    )
    assert result.new.used_mid_kwh == pytest.approx(
        math.fsum(leg.energy_kwh for leg in result.legs), abs=3 * EXACT
    )
    assert pytest.approx(100, abs=3 * EXACT) == math.fsum(leg.share_percent for leg in result.legs)
    assert [8, 15, 6] == [leg.distance_km for leg in result.legs]


# Source: energy is conserved: what a descent gives back is less than what the climb took.
def test_measured_trips_move_the_energy_of_the_legs_with_what_the_day_takes() -> None:
    case = CATALOG.driving_cases[0]
    trip = MeasuredTrip(driven_on=date(2026, 6, 1), case=case.id, km=40, energy_kwh=9.0)
    day = _day(town_km=8, country_km=15, motorway_km=6, temperature_c=case.temperature_c)
    choices = every_build(FLOAT)[3].choices
    build = house_build(day, **choices).model_copy(
        update={"measurements": Measurements(trips=(trip,))}
    )
    before = specify(CATALOG, house_build(day, **choices), ENGINES).day
    after = specify(CATALOG, build, ENGINES).day
    assert before is not None
    assert after is not None
    assert before.new.used_mid_kwh != pytest.approx(after.new.used_mid_kwh, rel=0.01)
    assert after.new.used_mid_kwh == pytest.approx(
        math.fsum(leg.energy_kwh for leg in after.legs), abs=3 * EXACT
    )


def test_hills_cost_more_than_level_roads_and_less_than_the_climb_alone() -> None:
    level = driven(country_km=30)
    hills = driven(country_km=30, climbed_m=300, descended_m=300)
    climb = driven(country_km=30, climbed_m=300)
    used = [result.new.used_mid_kwh for result in (level, hills, climb)]
    assert sorted(used) == used
    assert used[0] < used[1] < used[2]


# Source: first principles, m g h over the efficiency of a drive that loses between 5 and 40 %.
def test_a_climb_costs_the_energy_of_lifting_the_vehicle() -> None:
    spec = specify(CATALOG, house_build(_day(motorway_km=40, motorway_km_h=40)), ENGINES)
    kerb = spec.fact("kerb_mass_kg")
    level = driven(motorway_km=40, motorway_km_h=40)
    climb = driven(motorway_km=40, motorway_km_h=40, climbed_m=100)
    lifted_kwh = (kerb.low + 75) * 9.80665 * 100 / 3.6e6
    more_kwh = climb.new.used_mid_kwh - level.new.used_mid_kwh
    assert lifted_kwh / 0.95 < more_kwh < lifted_kwh / 0.6


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("motorway_km", (10, 15, 20)),
        ("load_kg", (0, 100, 200)),
        ("cold_starts", (1, 3, 9)),
        ("temperature_c", (20, 5, -10)),
        ("reserve_percent", (0, 10, 30)),
    ],
)
def test_what_asks_more_never_leaves_more(name: str, values: tuple[float, ...]) -> None:
    spare = [
        driven(town_km=10, **({"temperature_c": 0} | {name: value})).new.spare_low_km
        for value in values
    ]
    assert all(before >= after for before, after in pairwise(spare))
    assert spare[0] >= spare[-1]


def test_a_trailer_takes_more_and_widens_the_band() -> None:
    alone, pulled = (
        driven(country_km=30, trailer=trailer).new for trailer in (None, Trailer(mass_kg=300))
    )
    assert pulled.used_mid_kwh > alone.used_mid_kwh
    assert pulled.used_high_kwh / pulled.used_low_kwh > alone.used_high_kwh / alone.used_low_kwh


def test_an_aged_battery_leaves_less() -> None:
    result = driven(country_km=20)
    assert result.aged.left_low_percent < result.new.left_low_percent
    assert result.aged.likelihood_percent <= result.new.likelihood_percent


def test_a_day_fits_just_when_nine_in_ten_are_likely_to_make_it() -> None:
    outcomes = [driven(town_km=km, reserve_percent=10).new for km in range(5, 400, 5)]
    assert {True, False} == {outcome.fits for outcome in outcomes}
    for outcome in outcomes:
        assert outcome.fits == (outcome.likelihood_percent >= 90.0)
        assert outcome.fits == (outcome.least_low_percent >= 10.0)


def test_an_open_build_is_told_by_what_the_workshop_would_choose_and_says_so() -> None:
    day = _day(country_km=20)
    opened = build_of(FLOAT).model_copy(update={"day": day})
    spec = specify(CATALOG, opened, ENGINES)
    filled = specify(CATALOG, house_build(day), ENGINES)
    assert not spec.is_complete
    assert spec.day is not None
    assert filled.day is not None
    assert spec.day.of_default_completion
    assert filled.day == spec.day.model_copy(update={"of_default_completion": False})


def test_a_build_without_a_day_tells_none() -> None:
    spec = specify(CATALOG, house_build(None), ENGINES)
    assert spec.day is None
    assert "day" not in {finding.subject for finding in spec.findings}


def _codes(catalog, day: CustomersDay) -> set[str]:
    spec = specify(catalog, house_build(day), Engines())
    return {finding.code for finding in spec.findings if finding.subject == "day"}


def test_a_trailer_heavier_than_the_options_allow_is_warned_of() -> None:
    allowing = CATALOG.groups[0].model_copy(
        update={
            "options": tuple(
                option.model_copy(update={"effects": Effects(trailer_kg=400)})
                for option in CATALOG.groups[0].options
            )
        }
    )
    catalog = changed(CATALOG, "tow", groups=(allowing, *CATALOG.groups[1:]))
    light, heavy = (_day(town_km=1, trailer=Trailer(mass_kg=kg)) for kg in (400, 401))
    assert "F021" not in _codes(catalog, light)
    assert "F021" in _codes(catalog, heavy)
    assert "F021" in _codes(CATALOG, light)


def test_an_overloaded_day_and_a_day_too_long_are_found() -> None:
    assert set() == _codes(CATALOG, _day(town_km=1))
    assert {"F022"} <= _codes(CATALOG, _day(town_km=1, load_kg=3000))
    assert {"F023"} <= _codes(CATALOG, _day(town_km=900))


def test_a_days_load_is_held_against_each_axle_where_it_is_placed() -> None:
    light, heavy = driven(town_km=1, load_kg=0), driven(town_km=1, load_kg=200)
    whole, front, rear = (
        after.load_kg - before.load_kg
        for before, after in zip(light.limits, heavy.limits, strict=True)
    )
    assert 200 == pytest.approx(whole, abs=0.01)
    assert front + rear >= whole - 0.01
    assert min(-limit.over_kg for limit in heavy.limits) == pytest.approx(
        heavy.payload_spare_kg, abs=0.01
    )
    roomy = tuple(v.model_copy(update={"gross_mass_limit_kg": 9000.0}) for v in CATALOG.vehicles)
    catalog = changed(CATALOG, "roomy", vehicles=roomy)
    assert {"F022"} <= _codes(catalog, _day(town_km=1, load_kg=3000))
    assert any(said.startswith("The load is placed so") for said in heavy.assumptions)


def test_a_day_that_gives_back_what_it_takes_is_not_computed_and_said() -> None:
    downhill = _day(town_km=10, descended_m=1400)
    assert {"F025"} == _codes(CATALOG, downhill)


def hours_in(sentence: str) -> float:
    """Read back how long a stop is told to take."""
    told = re.search(r"harge for (?:(\d+) h)? ?(?:(\d+) min)? ?halfway", sentence)
    assert told is not None
    return int(told[1] or 0) + int(told[2] or 0) / 60


def test_charging_for_as_long_as_told_makes_the_day_fit() -> None:
    result = driven(town_km=100, reserve_percent=10)
    assert not result.new.fits
    told = next(told for told in result.helps if told.kind == "charging")
    assert told.fits
    hours = hours_in(told.sentence)
    with_charging, too_short = (
        driven(town_km=100, reserve_percent=10, hours_charging=h).new.fits
        for h in (hours, hours - 0.3)
    )
    assert with_charging
    assert not too_short


def test_driving_as_slowly_as_told_leaves_what_is_told() -> None:
    result = driven(motorway_km=30, motorway_km_h=110, town_km=5)
    told = next(told for told in result.helps if told.kind == "slower")
    speed = float(told.sentence.split("Drive ")[1].split(" km/h")[0])
    slower = driven(motorway_km=30, motorway_km_h=speed, town_km=5)
    assert told.spare_low_km == slower.new.spare_low_km
    assert told.spare_low_km > result.new.spare_low_km


def test_nothing_is_told_to_help_that_does_not() -> None:
    days = [{"town_km": km, "motorway_km": far} for km in (5, 60, 150, 900) for far in (0, 40, 300)]
    results = [driven(**day, motorway_km_h=120, temperature_c=-5) for day in days]
    short = [result for result in results if not result.new.fits]
    assert any(result.helps for result in short)
    assert any(not result.helps for result in short)
    assert all(told.fits for result in short for told in result.helps)
    said = " ".join(told.sentence for result in results for told in result.helps)
    assert "still missing" not in " ".join(t.sentence for r in short for t in r.helps)
    assert "fits with 0 km" not in said


def test_what_helps_only_together_is_told_when_nothing_helps_alone() -> None:
    day = {"motorway_km": 110, "motorway_km_h": 110, "reserve_percent": 10}
    result = driven(**day)
    (together,) = result.helps
    assert together.fits
    assert "together" == together.kind
    hours = hours_in(together.sentence)
    calmer = driven(**day | {"motorway_km_h": 60, "hours_charging": hours})
    assert calmer.new.fits
    assert together.spare_low_km == calmer.new.spare_low_km


SHARES = st.floats(0, 1, allow_nan=False)


# Source: a battery run down and charged in small steps.
@given(SHARES, SHARES, st.floats(0.6, 1), st.floats(0.01, 2))
def test_charging_halfway_leaves_what_a_battery_followed_step_by_step_has(
    charged: float, reserve: float, full_enough: float, day_share: float
) -> None:
    halfway = Halfway(
        charged_share=charged, full_enough_share=full_enough, reserve_share=0.6 * reserve
    )
    at_halfway = 1 - day_share / 2
    level, steps = at_halfway, 1000
    for _ in range(steps):
        level = max(level, min(level + charged / steps, full_enough))
    assert level - day_share / 2 == pytest.approx(halfway.left_on_return(day_share), abs=2e-3)
    least = min(at_halfway, level - day_share / 2)
    makes_it = day_share <= halfway.longest_share
    if abs(least - halfway.reserve_share) > 5e-3:
        assert makes_it == (least >= halfway.reserve_share)


def test_hills_longer_than_the_day_are_steeper() -> None:

    cycles = {cycle.id: cycle for cycle in CATALOG.cycles}
    legs = legs_by_road(_day(town_km=10, climbed_m=500, descended_m=500), DayRoads(), cycles)
    climbed_m = sum(
        leg.distance_m * math.sin(math.atan(leg.slope_percent / 100)) for leg in legs["town"]
    )
    assert pytest.approx(0, abs=1e-6) == climbed_m
    assert pytest.approx(10_000) == sum(leg.distance_m for leg in legs["town"])
    assert 5 < max(leg.slope_percent for leg in legs["town"])


def test_a_battery_too_cold_to_be_charged_is_not_counted_on() -> None:
    cold = driven(town_km=30, hours_charging=4, temperature_c=-20)
    warm = driven(town_km=30, hours_charging=4, temperature_c=-20, battery_c=15)
    assert 0 == cold.charged_halfway_kwh
    assert "cannot charge halfway" in " ".join(cold.assumptions)
    assert 0 < warm.charged_halfway_kwh
