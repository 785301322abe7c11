"""Every fact of every build has a derivation whose steps add up and end at the fact."""

import math
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import get_args

import pytest

from configurator.build_spec.derivation import Derivation
from configurator.build_spec.derivations.explain import derivable, derive
from configurator.build_spec.derivations.ranges import RANGE_NAMES
from configurator.build_spec.derivations.topics import TOPICS
from configurator.build_spec.engines import Engines
from configurator.build_spec.facts import STORED_DECIMALS
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.build_spec.weight_doubt import WEIGHBRIDGE_SIGMA_KG
from configurator.catalog.build_file import load_build
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import AsBuilt, BuildInput, Donor
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.measurements import MeasuredTrip, Measurements
from configurator.catalog.models.rule import FactName
from tests.build_spec.electrical_builds import electrical_catalog
from tests.build_spec.test_measured_vehicle import coast_down, complete
from tests.build_spec.tiny_builds import build_of, tiny_catalog

DEMO = Path(__file__).parents[2] / "catalog"
MEASURED = Path(__file__).parents[1] / "catalogs" / "measured_pickup.yaml"
DEMO_BUILDS = (*sorted((DEMO / "demo_builds").glob("*.yaml")), MEASURED)
ENGINES = Engines()
SUMS: frozenset[FactName] = frozenset(
    {
        "price_gbp",
        "kerb_mass_kg",
        "laden_mass_kg",
        "kerb_front_axle_kg",
        "kerb_rear_axle_kg",
        "laden_front_axle_kg",
        "laden_rear_axle_kg",
        "payload_kg",
        "roof_load_kg",
        "nose_weight_kg",
        "seats",
        "consumption_wh_per_km",
        "seconds_to_50_km_h",
        "seconds_to_60_mph",
        "workshop_hours",
        "pack_voltage_over_v",
        "charger_voltage_under_v",
    }
)
"""Facts whose last step is the sum of all the others."""


@cache
def demo_catalog() -> Catalog:
    return load_catalog(DEMO)


def by_the_house(build: BuildInput) -> BuildInput:
    return build.model_copy(update={"house_choices_for_the_rest": True})


@cache
def complete_specs() -> tuple[tuple[Catalog, Spec], ...]:
    builds = [(demo_catalog(), load_build(path, demo_catalog())) for path in DEMO_BUILDS]
    builds += [
        (catalog, build_of(vehicle.id))
        for catalog in (tiny_catalog(), electrical_catalog())
        for vehicle in catalog.vehicles
    ]
    return tuple(
        (catalog, specify(catalog, by_the_house(build), ENGINES)) for catalog, build in builds
    )


def all_derived() -> Iterator[tuple[Spec, Derivation, float]]:
    for catalog, spec in complete_specs():
        for fact in spec.facts:
            build = by_the_house(spec.build)
            derived = derive(catalog, build, ENGINES, fact.name, fact.case)
            assert derived is not None, (spec.build.reference, fact.name, fact.case)
            yield spec, derived, fact.low


def test_the_last_step_of_each_derivation_is_the_fact() -> None:
    for spec, derived, value in all_derived():
        assert spec.is_complete
        last = derived.steps[-1].value
        assert value == round(last, STORED_DECIMALS), (spec.build.reference, derived.fact)
        assert not derived.is_default
        assert () == derived.ends


def test_every_fact_there_is_has_a_derivation() -> None:
    derived = {(found.fact) for _, found, _ in all_derived()}
    assert set(get_args(FactName)) == derived
    assert sorted(get_args(FactName)) == sorted(name for names in TOPICS.values() for name in names)


def test_the_steps_of_a_sum_add_up() -> None:
    seen = set()
    for _, derived, _ in all_derived():
        if derived.fact in SUMS:
            *parts, last = [step.value for step in derived.steps]
            assert last == pytest.approx(sum(parts), rel=1e-9, abs=1e-9), derived.fact
            seen.add(derived.fact)
    assert SUMS == seen


def test_consumption_and_edges_follow_from_the_steps() -> None:
    for _, derived, _ in all_derived():
        if derived.fact not in RANGE_NAMES:
            continue
        steps = {step.words: step.value for step in derived.steps}
        values = [step.value for step in derived.steps]
        consumption = values.index(steps["Consumption, together"])
        assert values[consumption] == pytest.approx(sum(values[:consumption]), rel=1e-9)
        if derived.fact == "consumption_wh_per_km":
            continue
        energy_kwh, middle_km = values[consumption + 1 : consumption + 3]
        assert middle_km == pytest.approx(1000 * energy_kwh / values[consumption], rel=1e-9)
        if derived.fact == "range_low_km":
            factor, low_km = values[-2:]
            assert low_km == pytest.approx(middle_km / factor, rel=1e-9)


def test_the_finish_is_the_longest_of_the_paths_told() -> None:
    for _, derived, weeks in all_derived():
        if derived.fact == "handover_weeks":
            *paths, days, _ = [step.value for step in derived.steps]
            assert days == math.ceil(round(max(paths), 9))
            assert weeks == round(days / 7, STORED_DECIMALS)


def test_inputs_have_their_own_names_and_say_where_they_come_from() -> None:
    for _, derived, _ in all_derived():
        ids = [stated.id for stated in derived.inputs]
        assert len(set(ids)) == len(ids), derived.fact
        assert all(stated.source and stated.label for stated in derived.inputs)
        assert derived.formula
        assert derived.source


def test_no_guess_is_told_without_its_doubt() -> None:
    guesses = set()
    for _, derived, _ in all_derived():
        for stated in derived.inputs:
            if stated.basis == "guessed" and stated.id != "resistance":
                assert stated.sigma > 0, (derived.fact, stated.id)
                guesses.add(stated.id)
    assert {"donor-height", "donor-left-share"} <= guesses


def test_the_doubt_told_of_a_weighed_donor_is_the_weighbridges() -> None:
    donor = Donor(front_axle_kg=540, rear_axle_kg=500, left_side_kg=530, right_side_kg=510)
    build = complete(donor=donor)
    kerb = derive(tiny_catalog(), build, ENGINES, "kerb_mass_kg")
    left = derive(tiny_catalog(), build, ENGINES, "left_share_percent")
    assert kerb is not None
    assert left is not None
    told = {stated.id: stated for stated in (*kerb.inputs, *left.inputs)}
    for axle in ("donor-front-axle", "donor-rear-axle"):
        assert ("measured", WEIGHBRIDGE_SIGMA_KG) == (told[axle].basis, told[axle].sigma)
    assert "weighed" in told["mass-doubt"].source
    assert 100 * WEIGHBRIDGE_SIGMA_KG / 1040 == pytest.approx(told["donor-left-share"].sigma)


def test_no_rate_cost_or_margin_of_money_is_told() -> None:
    for catalog, spec in complete_specs():
        derived = derive(catalog, by_the_house(spec.build), ENGINES, "price_gbp")
        assert derived is not None
        told = [derived.formula, *(step.words for step in derived.steps)]
        told += [stated.label for stated in derived.inputs]
        assert not any(
            word in line.lower() for line in told for word in ("rate ", "cost", "margin")
        )
        assert ["vat"] == [stated.id for stated in derived.inputs]


def test_while_choices_are_open_the_default_is_worked_out_with_both_ends() -> None:
    catalog = tiny_catalog()
    build = build_of(catalog.vehicles[0].id)
    spec = specify(catalog, build, ENGINES)
    default = specify(catalog, by_the_house(build), ENGINES)
    assert not spec.is_complete
    assert {(fact.name, fact.case) for fact in default.facts} == set(
        derivable(catalog, build, ENGINES)
    )
    for name, case in derivable(catalog, build, ENGINES):
        derived = derive(catalog, build, ENGINES, name, case)
        fact, of_default = spec.fact(name, case), default.fact(name, case)
        assert derived is not None
        assert of_default is not None
        assert derived.is_default
        assert of_default.low == round(derived.steps[-1].value, STORED_DECIMALS)
        if derived.ends and fact is not None and name not in RANGE_NAMES:
            least, greatest = derived.ends
            assert fact.low == pytest.approx(least.value, abs=0.51)
            assert fact.high == pytest.approx(greatest.value, abs=0.51)
    price = derive(catalog, build, ENGINES, "price_gbp")
    assert price is not None
    least, greatest = price.ends
    assert least.value < greatest.value
    assert least.choices
    assert least.choices != greatest.choices


def test_a_measured_vehicle_is_worked_out_as_measured() -> None:
    case = tiny_catalog().driving_cases[0].id
    trip = MeasuredTrip(driven_on=date(2026, 6, 1), case=case, km=40, energy_kwh=9.0)
    build = complete(measurements=Measurements(coast_down=coast_down(), trips=(trip,)))
    spec = specify(tiny_catalog(), build, ENGINES)
    assert 1 != spec.vehicle.measured_road_load.consumption_factor
    for fact in spec.facts:
        derived = derive(tiny_catalog(), build, ENGINES, fact.name, fact.case)
        assert derived is not None
        assert fact.low == round(derived.steps[-1].value, STORED_DECIMALS), fact.name
    low = derive(tiny_catalog(), build, ENGINES, "range_low_km", case)
    assert low is not None
    basis = {stated.id: stated.basis for stated in low.inputs}
    assert "measured" == basis["rolling-resistance"] == basis["measured-trips"]
    words = [step.words for step in low.steps]
    values = {step.words: step.value for step in low.steps}
    whole = words.index("Consumption, together")
    kinds = [step.value for step in low.steps[:whole]]
    assert "What measured trips add, or take away" in words[:whole]
    assert values["Consumption, together"] == pytest.approx(sum(kinds), rel=1e-9)


def test_the_doubts_told_make_the_doubt_together() -> None:
    case = tiny_catalog().driving_cases[0].id
    for build in (complete(), complete(measurements=Measurements(coast_down=coast_down()))):
        low = derive(tiny_catalog(), build, ENGINES, "range_low_km", case)
        assert low is not None
        values = {step.words: step.value for step in low.steps}
        single = {
            words.removeprefix("One standard deviation of the ").removesuffix(
                " moves the range by"
            ): value
            for words, value in values.items()
            if words.startswith("One standard deviation")
        }
        correlation = values.get("Drag area and rolling resistance go together by", 0.0)
        product = single["drag area"] * single["rolling resistance"]
        expected = math.sqrt(sum(v * v for v in single.values()) + 2 * correlation * product)
        together = next(value for words, value in values.items() if words.startswith("Together,"))
        assert expected == pytest.approx(together, rel=1e-9)


def test_a_weighed_vehicle_is_worked_out_from_the_weighbridge() -> None:
    built = AsBuilt(front_axle_kg=617, rear_axle_kg=523)
    build = complete(as_built=built)
    spec = specify(tiny_catalog(), build, ENGINES)
    for fact in spec.facts:
        derived = derive(tiny_catalog(), build, ENGINES, fact.name, fact.case)
        assert derived is not None
        assert fact.low == round(derived.steps[-1].value, STORED_DECIMALS), fact.name
    kerb = derive(tiny_catalog(), build, ENGINES, "kerb_mass_kg")
    assert kerb is not None
    assert built.weighed_kg == kerb.steps[-1].value
    assert {"weighed-front-axle", "weighed-rear-axle"} <= {stated.id for stated in kerb.inputs}
    assert () == kerb.narrowed_by
