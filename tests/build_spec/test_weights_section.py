"""The weights of a build whose picks contradict each other are told all the same."""

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Wheel
from configurator.catalog.models.rule import Rule
from tests.build_spec.tiny_builds import build_of, changed, tiny_catalog

VEHICLE = "clover-van"
STRONG_KG, WEAK_KG = 500.0, 300.0


def with_a_group_of_wheels(catalog: Catalog) -> Catalog:
    """Let the springs decide the wheels; the house fits the strong ones."""
    plain = next(c for c in catalog.components if isinstance(c, Wheel))
    strong = plain.model_copy(update={"id": "strong-wheel", "rating_kg": STRONG_KG})
    weak = plain.model_copy(update={"id": "weak-wheel", "rating_kg": WEAK_KG})
    springs = next(group for group in catalog.groups if group.id == "springs")
    options = tuple(
        option.model_copy(
            update={"fits": {"wheel": (strong if option.id == springs.house_choice else weak).id}}
        )
        for option in springs.options
    )
    groups = tuple(
        group.model_copy(update={"options": options}) if group is springs else group
        for group in catalog.groups
    )
    return changed(catalog, "wheels", groups=groups, components=(*catalog.components, strong, weak))


def test_picks_that_contradict_each_other_still_have_axle_limits() -> None:
    catalog = with_a_group_of_wheels(tiny_catalog())
    engine = Engines().compiled(catalog, build_of(VEHICLE)).engine
    picks = next(
        {group: option, other: refused}
        for group, options in engine.availability({}).items()
        for option in options
        for other, left in engine.availability({group: option}).items()
        for refused, is_possible in left.items()
        if other not in {group, "springs"} and group != "springs" and not is_possible
    )
    spec = specify(catalog, build_of(VEHICLE, **picks), Engines())
    assert "F006" in {finding.code for finding in spec.findings}
    assert min(catalog.vehicle_by_id[VEHICLE].rear_axle_limit_kg, 2 * STRONG_KG) == (
        spec.weights.rear.limit_low_kg
    )


def test_an_axle_limit_is_from_to_while_the_wheels_are_open() -> None:
    spec = specify(with_a_group_of_wheels(tiny_catalog()), build_of(VEHICLE), Engines())
    assert 2 * WEAK_KG == spec.weights.rear.limit_low_kg
    assert spec.weights.rear.limit_low_kg < spec.weights.rear.limit_high_kg


def test_wheels_that_a_rule_forbids_set_no_axle_limit() -> None:
    catalog = with_a_group_of_wheels(tiny_catalog())
    springs = next(group for group in catalog.groups if group.id == "springs")
    other = next(
        group
        for group in catalog.groups
        if group.id != "springs" and (group.vehicles is None or VEHICLE in group.vehicles)
    )
    rule = Rule(
        id="strong-wheels-always",
        when={other.id: tuple(option.id for option in other.options)},
        then={"springs": (springs.house_choice,)},
        because="A test wants it.",
        source="for tests",
    )
    ruled = changed(catalog, "ruled", rules=(*catalog.rules, rule))
    rear = specify(ruled, build_of(VEHICLE), Engines()).weights.rear
    assert rear.limit_low_kg == rear.limit_high_kg
    assert 2 * STRONG_KG == rear.wheels_limit_kg
