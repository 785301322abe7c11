"""The Spec: complete, open, contradictory, withdrawn; printed lines sum to the total."""

from decimal import Decimal

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import assess, outline, specify, stand
from configurator.catalog.models.build import BuildInput, Discount, Donor, SurveyLine
from configurator.errors import ChoiceError
from tests.build_spec.tiny_builds import build_of, changed, tiny_catalog

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]


def filled(vehicle: str) -> BuildInput:
    return build_of(vehicle).model_copy(update={"house_choices_for_the_rest": True})


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_printed_lines_sum_to_the_total_and_payments_to_the_price(vehicle: str) -> None:
    discount = Discount(amount_gbp=Decimal("123.45"), reason="A returning customer")
    build = filled(vehicle).model_copy(update={"discount": discount})
    price = specify(tiny_catalog(), build, Engines()).price
    assert price.total_low_gbp == price.total_high_gbp == price.decided_gbp
    assert price.decided_gbp == sum(line.amount_gbp for line in price.lines)
    assert price.decided_gbp == sum(payment.amount_gbp for payment in price.payments)
    assert Decimal("-123.45") == price.lines[-1].amount_gbp or any(
        line.kind == "discount" for line in price.lines
    )


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_the_same_build_gives_the_same_bytes_whatever_was_asked_before(vehicle: str) -> None:
    warm = Engines()
    for option in stand(tiny_catalog(), build_of(vehicle), warm)[0].options:
        if option.is_available:
            group = stand(tiny_catalog(), build_of(vehicle), warm)[0].group_id
            specify(tiny_catalog(), build_of(vehicle, **{group: option.option_id}), warm)
    for build in (build_of(vehicle), filled(vehicle)):
        cold = specify(tiny_catalog(), build, Engines())
        assert cold.sha256() == specify(tiny_catalog(), build, warm).sha256()


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_what_the_talk_shows_agrees_with_the_whole_spec(vehicle: str) -> None:
    build = build_of(vehicle)
    shown = outline(tiny_catalog(), build, Engines())
    whole = specify(tiny_catalog(), build, Engines())
    assert shown.price == whole.price
    assert shown.weights == whole.weights
    told = {(fact.name, fact.case): fact for fact in whole.facts}
    for fact in shown.facts:
        assert told[fact.name, fact.case] == fact


def test_choices_that_break_a_rule_are_told_and_still_computed() -> None:
    build = build_of("clover-float", cells="few-cells", warmth="hot-wire")
    found = assess(tiny_catalog(), build, Engines())
    assert found.is_contradictory
    blocking = [f for f in found.spec.findings if f.severity == "blocks"]
    assert {"F001", "F006"} == {finding.code for finding in blocking}
    assert "A heater would empty a few cells before noon." in blocking[0].sentence
    assert found.spec.price.total_low_gbp > 0


def test_an_option_that_is_out_says_why_and_names_a_way_out() -> None:
    build = build_of("clover-float", cells="few-cells")
    groups = stand(tiny_catalog(), build, Engines(), {"comfort", "works", "looks"})
    options = {o.option_id: o for g in groups for o in g.options}
    heater = options["hot-wire"]
    assert not heater.is_available
    assert heater.reason is not None
    assert ("hot-wire-wants-many-cells",) == heater.reason.rules
    assert (("cells", "few-cells"),) == heater.reason.choices
    assert heater.ways_out
    assert ("cells", "many-cells") in heater.ways_out[0].changes
    changed = build_of("clover-float", **dict(heater.ways_out[0].changes), warmth="hot-wire")
    assert not assess(tiny_catalog(), changed, Engines()).is_contradictory


def test_a_choice_the_catalog_has_lost_is_kept_and_told() -> None:
    build = build_of("clover-float", livery="lost-colour")
    spec = specify(tiny_catalog(), build, Engines())
    assert "lost-colour" == spec.build.choices["livery"]
    (finding,) = (f for f in spec.findings if f.severity == "blocks")
    assert "F007" == finding.code
    livery = tiny_catalog().group_by_id["livery"]
    assert finding.remedy.endswith(f": {' or '.join(o.label for o in livery.options)}.")


def test_an_unknown_vehicle_and_an_unknown_survey_part_are_refused() -> None:
    with pytest.raises(ChoiceError, match='"hay-cart" is not in the catalog'):
        specify(tiny_catalog(), build_of("hay-cart"), Engines())
    line = SurveyLine(part="wings", verdict="repair")
    surveyed = build_of("clover-float").model_copy(update={"survey": (line,)})
    with pytest.raises(ChoiceError, match='has no part "wings"'):
        specify(tiny_catalog(), surveyed, Engines())


def test_notes_of_the_workshop_never_reach_the_spec() -> None:
    build = build_of("clover-float").model_copy(update={"notes": "asks too many questions"})
    assert "too many questions" not in specify(tiny_catalog(), build, Engines()).canonical_json()


def test_a_drive_too_weak_for_a_cycle_is_noted_with_its_share() -> None:
    tiny = tiny_catalog()
    # The cold alone would weaken the battery.
    unmoved = {"resistance_percent_at": {20: 100.0}}
    never_cold = tuple(
        c.model_copy(update=unmoved) if c.kind == "pack" else c for c in tiny.components
    )
    catalog = changed(tiny, "never cold", components=never_cold)
    weak = tuple(
        c.model_copy(update={"peak_power_kw": 6.0, "continuous_power_kw": 5.0})
        if c.kind == "motor"
        else c
        for c in catalog.components
    )
    slow = changed(catalog, "weak", components=weak)
    found = [
        f for f in specify(slow, filled("clover-float"), Engines()).findings if f.code == "F009"
    ]
    assert all("km/h too slow" in finding.sentence for finding in found)
    noted = {finding.subject for finding in found}
    strong = {f.code for f in specify(catalog, filled("clover-float"), Engines()).findings}
    assert {"round-in-june", "round-in-january"} <= noted
    assert "F009" not in strong


def test_a_trailer_makes_the_hill_it_can_restart_on_gentler() -> None:
    catalog = tiny_catalog()
    groups = tuple(
        group.model_copy(
            update={
                "options": tuple(
                    option.model_copy(
                        update={"effects": option.effects.model_copy(update={"trailer_kg": 300.0})}
                    )
                    for option in group.options
                )
            }
        )
        if group.id == "livery"
        else group
        for group in catalog.groups
    )
    towing = changed(catalog, "towing", groups=groups)
    alone = specify(catalog, filled("clover-float"), Engines()).fact("hill_restart_percent")
    drawn = specify(towing, filled("clover-float"), Engines()).fact("hill_restart_percent")
    assert alone is not None
    assert drawn is not None
    assert drawn.low < alone.low


@pytest.mark.parametrize("house", [False, True])
def test_the_price_a_way_out_promises_is_the_price_it_brings(house: bool) -> None:
    build = build_of("clover-float", cells="few-cells", springs="old-springs").model_copy(
        update={"house_choices_for_the_rest": house}
    )
    engines, told = Engines(), 0
    parts = {part.id for part in tiny_catalog().workshop.talk}
    before = specify(tiny_catalog(), build, engines).price
    for group in stand(tiny_catalog(), build, engines, parts):
        for option in group.options:
            for way in option.ways_out:
                told += 1
                taken = {**build.choices, **dict(way.changes), group.group_id: option.option_id}
                changed_build = build.model_copy(update={"choices": taken})
                after = specify(tiny_catalog(), changed_build, engines).price
                if house:
                    brought = after.total_low_gbp - before.total_low_gbp
                else:
                    standing = stand(tiny_catalog(), build, engines)
                    brought = sum(
                        (
                            o.price_difference_gbp
                            for g in standing
                            for o in g.options
                            if taken.get(g.group_id) == o.option_id
                        ),
                        Decimal(0),
                    )
                assert brought == way.price_difference_gbp
    assert told


def test_a_donor_weighed_far_from_the_usual_is_warned_about() -> None:
    vehicle = tiny_catalog().vehicle_by_id["clover-float"]
    rear_kg = vehicle.donor_rear_axle_kg
    likely = Donor(front_axle_kg=vehicle.donor_front_axle_kg * 1.1, rear_axle_kg=rear_kg)
    unlikely = Donor(front_axle_kg=vehicle.donor_front_axle_kg * 1.4, rear_axle_kg=rear_kg)
    found = {
        donor: [
            finding.subject
            for finding in specify(
                tiny_catalog(),
                filled("clover-float").model_copy(update={"donor": donor}),
                Engines(),
            ).findings
            if finding.code == "F010"
        ]
        for donor in (likely, unlikely)
    }
    assert {likely: [], unlikely: ["donor-front-axle"]} == found
