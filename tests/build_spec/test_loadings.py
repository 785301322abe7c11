"""The stages of loading agree with the facts, sum up, and are judged with their doubt."""

from datetime import date

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import AsBuilt, BuildInput, Customer, Donor
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import Limit
from configurator.catalog.models.vehicle import PlacedItem
from tests.build_spec.tiny_builds import changed, tiny_catalog, with_limits

VEHICLE = "clover-van"


def spec_of(catalog: Catalog | None = None, **fields: object) -> Spec:
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle=VEHICLE,
        priced_on=date(2026, 11, 25),
        house_choices_for_the_rest=True,
    )
    return specify(catalog or tiny_catalog(), build.model_copy(update=fields), Engines())


def of_vehicle(**fields: object) -> Catalog:
    catalog = tiny_catalog()
    vehicles = tuple(
        vehicle.model_copy(update=fields) if vehicle.id == VEHICLE else vehicle
        for vehicle in catalog.vehicles
    )
    return changed(catalog, repr(fields), vehicles=vehicles)


def a_limit(fact: str, **bound: object) -> Limit:
    fields = {"id": "limit", "label": "A limit", "limit": fact, "because": "A test wants it."}
    return Limit.model_validate({**fields, "severity": "warns", "source": "for tests", **bound})


def codes(spec: Spec) -> set[str]:
    return {finding.code for finding in spec.findings if finding.subject == "limit"}


def test_axles_and_sides_of_every_stage_sum_to_its_mass() -> None:
    loadings = spec_of().weights.loadings
    assert ["donor", "kerb", "driver"] == [loading.stage for loading in loadings[:3]]
    for loading in loadings:
        assert loading.mass_kg == pytest.approx(loading.front_kg + loading.rear_kg)
        assert loading.mass_kg == pytest.approx(loading.left_kg + loading.right_kg)


def test_stages_computed_with_floats_agree_with_the_exact_facts() -> None:
    spec = spec_of()
    kerb, laden = spec.weights.loadings[1], spec.weights.loadings[-1]
    expected = {
        "kerb_mass_kg": kerb.mass_kg,
        "kerb_rear_axle_kg": kerb.rear_kg,
        "laden_front_axle_kg": laden.front_kg,
        "centre_of_gravity_height_m": kerb.height_m,
        "left_share_percent": 100 * kerb.left_kg / kerb.mass_kg,
        "rollover_threshold_g": spec.vehicle.track_m / (2 * laden.height_m),
    }
    for name, value in expected.items():
        fact = spec.fact(name)  # type: ignore[arg-type]  # each is a fact's name
        assert fact is not None
        assert value == pytest.approx(fact.low, rel=1e-3), name


def test_what_is_carried_is_loaded_stage_by_stage_by_its_kind() -> None:
    carries = (
        PlacedItem(what="Ladder", mass_kg=20, place="bed", kind="roof-load"),
        PlacedItem(what="Parcels", mass_kg=200, place="bed"),
        PlacedItem(what="Trailer", mass_kg=50, place="bed", kind="nose-weight"),
    )
    spec = spec_of(of_vehicle(carries=carries))
    stages = [loading.stage for loading in spec.weights.loadings]
    assert ["load", "roof-load", "nose-weight"] == stages[-3:]
    for name, expected in (("roof_load_kg", 20.0), ("nose_weight_kg", 50.0)):
        fact = spec.fact(name)  # type: ignore[arg-type]  # each is a fact's name
        assert fact is not None
        assert expected == fact.low


def test_a_limit_within_the_band_may_be_exceeded_and_asks_for_a_weighbridge() -> None:
    mass_kg = spec_of().weights.loadings[1].mass_kg
    sigma_kg = spec_of().vehicle.mass_sigma_kg
    for room, expected in ((0.5, {"F027"}), (1.9, {"F027"}), (2.1, set()), (-0.5, {"F003"})):
        bound = mass_kg + room * sigma_kg
        spec = spec_of(with_limits(tiny_catalog(), a_limit("kerb_mass_kg", at_most=bound)))
        assert expected == codes(spec), room


def test_the_weighbridge_replaces_what_was_computed() -> None:
    kerb = spec_of().weights.loadings[1]
    limit = a_limit("kerb_mass_kg", at_most=kerb.mass_kg + 40)
    built = AsBuilt(front_axle_kg=round(kerb.front_kg) + 30, rear_axle_kg=round(kerb.rear_kg) + 30)
    spec = spec_of(with_limits(tiny_catalog(), limit), as_built=built)
    weighed = spec.weights.loadings[1]
    assert weighed.is_weighed
    assert built.front_axle_kg == weighed.front_kg
    assert weighed.mass_sigma_kg < kerb.mass_sigma_kg
    assert {"F028"} == codes(spec)


def test_a_trailer_that_lifts_the_front_is_left_out_of_what_the_front_axle_carries() -> None:
    vehicle = tiny_catalog().vehicle_by_id[VEHICLE]
    behind = next(iter(vehicle.places.values())).model_copy(
        update={"x_m": vehicle.wheelbase_m + 1.0, "label": "Tow ball"}
    )
    nose = PlacedItem(what="Nose weight", mass_kg=60, place="tow-ball", kind="nose-weight")
    places = {**vehicle.places, "tow-ball": behind}
    alone = spec_of()
    hitched = spec_of(of_vehicle(places=places, carries=(*vehicle.carries, nose)))
    for name in ("laden_front_axle_kg", "front_axle_margin_kg"):
        before, after = alone.fact(name), hitched.fact(name)  # type: ignore[arg-type]  # facts
        assert before is not None
        assert after is not None
        assert before.low == after.low, name
    front, rear = hitched.weights.front, hitched.weights.rear
    assert front.laden_high_kg > hitched.weights.loadings[-1].front_kg
    assert front.heaviest is not None
    assert rear.heaviest is not None
    assert ("laden, no trailer hitched", "fully laden") == (front.heaviest.when, rear.heaviest.when)
    assert hitched.weights.loadings[-1].rear_kg == pytest.approx(rear.laden_high_kg, abs=0.01)


def test_once_weighed_every_laden_figure_starts_from_the_weighbridge() -> None:
    computed = spec_of()
    kerb = computed.weights.loadings[1]
    built = AsBuilt(front_axle_kg=round(kerb.front_kg) + 300, rear_axle_kg=round(kerb.rear_kg) - 7)
    limit = a_limit("front_axle_margin_kg", at_least=0, severity="blocks")
    spec = spec_of(with_limits(tiny_catalog(), limit), as_built=built)
    moved_kg = (built.front_axle_kg or 0) - kerb.front_kg
    front, check = spec.weights.front, spec.weights.checks[0]
    assert computed.weights.front.laden_high_kg + moved_kg == (
        pytest.approx(front.laden_high_kg, abs=0.01)
    )
    assert computed.weights.front.kerb_high_kg == front.kerb_high_kg
    for name, value in (
        ("kerb_mass_kg", built.weighed_kg),
        ("kerb_front_axle_kg", built.front_axle_kg),
        ("laden_front_axle_kg", front.laden_high_kg),
        ("laden_mass_kg", spec.weights.loadings[-1].mass_kg),
    ):
        fact = spec.fact(name)  # type: ignore[arg-type]  # each is a fact's name
        assert fact is not None
        assert value == pytest.approx(fact.low, abs=0.002), name
    assert check.compared is not None
    assert front.laden_high_kg == pytest.approx(check.compared.value, abs=0.002)
    assert front.limit_high_kg == check.compared.bound
    assert "beyond" == check.verdict
    assert {"F028"} == codes(spec)


def test_only_what_stood_on_the_weighbridge_is_told_as_weighed() -> None:
    loadings = spec_of(as_built=AsBuilt(front_axle_kg=600, rear_axle_kg=500)).weights.loadings
    assert [False, True] + [False] * len(loadings[2:]) == [each.is_weighed for each in loadings]
    assert [False, False] + [True] * len(loadings[2:]) == [
        each.rests_on_weighed for each in loadings
    ]


def test_what_a_weighed_empty_vehicle_exceeds_is_not_mended_by_carrying_less() -> None:
    limit = a_limit("rear_share_change_points", at_most=3)
    built = AsBuilt(front_axle_kg=400, rear_axle_kg=800)
    spec = spec_of(with_limits(tiny_catalog(), limit), as_built=built)
    remedy = next(finding.remedy for finding in spec.findings if finding.code == "F028")
    assert "what is carried cannot mend it" in remedy


def test_the_payload_is_the_least_of_gross_mass_and_axles_where_the_load_goes() -> None:
    roomy = of_vehicle(gross_mass_limit_kg=9000.0)
    spec = spec_of(with_limits(roomy, a_limit("payload_kg", at_least=5000)))
    carrying, check = spec.weights.carrying, spec.weights.checks[0]
    by_gross = spec.fact("payload_kg")
    assert carrying is not None
    assert by_gross is not None
    assert carrying.payload_kg < 5000 < by_gross.low
    assert "axle" in carrying.limited_by
    assert "beyond" == check.verdict
    assert {"F027"} == codes(spec)


def test_the_doubt_about_the_kerb_mass_is_that_of_the_vehicle() -> None:
    spec = spec_of()
    assert spec.vehicle.mass_sigma_kg == pytest.approx(spec.weights.loadings[1].mass_sigma_kg)


def test_a_donor_weighed_by_sides_moves_the_left_share() -> None:
    even = spec_of().weights.loadings[1]
    donor = Donor(left_side_kg=560, right_side_kg=520)
    heavy = spec_of(donor=donor).weights.loadings[1]
    assert heavy.left_kg > even.left_kg
    assert heavy.side_sigma_kg < even.side_sigma_kg


def test_a_guessed_height_is_said_and_a_measured_one_is_not() -> None:
    source = {"value": 0.7, "sigma_percent": 4, "source": "for tests", "basis": "measured"}
    vehicle = tiny_catalog().vehicle_by_id[VEHICLE]
    measured = (
        type(vehicle)
        .model_validate({**vehicle.model_dump(), "donor_cg_height_m": source})
        .donor_cg_height_m
    )
    subject = f"{VEHICLE}.donor_cg_height_m"
    guessed, known = spec_of(), spec_of(of_vehicle(donor_cg_height_m=measured))
    assert subject in {finding.subject for finding in guessed.findings}
    assert subject not in {finding.subject for finding in known.findings}
    assert known.weights.loadings[1].height_sigma_m < guessed.weights.loadings[1].height_sigma_m


def test_a_limit_that_the_vehicle_does_not_state_limits_nothing() -> None:
    limit = a_limit("roof_load_kg", at_most="vehicle.roof_load_limit_kg")
    assert () == spec_of(with_limits(tiny_catalog(), limit)).weights.checks
    stated = with_limits(of_vehicle(roof_load_limit_kg=0.0), limit)
    assert ["kept"] == [check.verdict for check in spec_of(stated).weights.checks]
