"""The checks of the electrical set: verdicts follow from numbers, gaps are told, limits agree."""

import math
from pathlib import Path

import pytest

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.electrical_check import BoundIs, CheckWords, ElectricalCheck
from configurator.build_spec.electrical_findings import FACT_OF_CHECK, HOLDS_BACK
from configurator.build_spec.electrical_section import electrical_checks
from configurator.build_spec.engines import Engines
from configurator.build_spec.facts import extents_of_complete
from configurator.build_spec.pipeline import specify
from configurator.catalog.load import load_catalog
from configurator.catalog.models.component import Pack
from configurator.catalog.models.vehicle import LowVoltageCircuit
from tests.build_spec.electrical_builds import choices_of, electrical_catalog, limit
from tests.build_spec.tiny_builds import build_of, changed, compiled_of, tiny_catalog, with_limits

VAN = "clover-van"


def checks(compiled: Compiled, **picks: str) -> dict[str, ElectricalCheck]:
    found = electrical_checks(compiled, choices_of(compiled, **picks))
    by_id = {check.id: check for check in found}
    assert len(found) == len(by_id)
    return by_id


@pytest.mark.parametrize(
    ("bound_is", "value", "bound", "verdict", "margin"),
    [
        ("at most", 10.0, 12.0, "kept", 2.0),
        ("at most", 12.0, 12.0, "kept", 0.0),
        ("at most", 12.1, 12.0, "beyond", -0.1),
        ("at least", 10.0, 12.0, "beyond", -2.0),
        ("at least", 12.0, 12.0, "kept", 0.0),
        ("at least", None, 12.0, "not stated", None),
        ("at most", 12.0, None, "not stated", None),
    ],
)
def test_a_verdict_follows_from_value_and_bound(
    bound_is: BoundIs,
    value: float | None,
    bound: float | None,
    verdict: str,
    margin: float | None,
) -> None:
    words = CheckWords("a", "A", "A", "A", "as stated", "invented for tests", 0, bound_is)
    check = words.against(value, bound, "the thing")
    assert (verdict, margin) == (check.verdict, check.margin)
    assert ("the thing" if verdict == "not stated" else "") == check.missing


def test_nothing_is_checked_while_a_choice_is_open() -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    choices = compiled.offer.house_choices()
    assert electrical_checks(compiled, choices)
    del choices["warmth"]
    assert () == electrical_checks(compiled, choices)


def test_what_the_catalog_does_not_state_is_told_with_what_is_missing() -> None:
    found = checks(compiled_of(tiny_catalog(), VAN))
    for name in ("modules", "cable-current", "fuse-current", "contactor-current"):
        assert "not stated" == found[name].verdict
        assert found[name].missing
    for name in ("pre-charge-time", "bleed-time"):
        assert "not stated" == found[name].verdict
    assert "kept" == found["full-inverter"].verdict


def test_a_missing_ambient_temperature_is_told_and_nothing_is_guessed() -> None:
    catalog = electrical_catalog()
    vehicles = tuple(v.model_copy(update={"cable_ambient_c": None}) for v in catalog.vehicles)
    found = checks(compiled_of(changed(catalog, "cool", vehicles=vehicles), VAN))
    for name in ("cable-carries", "cable-current", "fuse-cable"):
        assert "not stated" == found[name].verdict
        assert "warm" in found[name].missing


# Source: UN Regulation No. 100, 5.1.3, on a battery of 86 V; first principles for the rest.
def test_the_values_are_those_worked_out_by_hand() -> None:
    found = checks(compiled_of(electrical_catalog(), VAN), cells="few-cells", warmth="scarf")
    by_hand = {
        "cell-full": 86 / 24,
        "cell-empty": 65 / 24,
        "cable-carries": 250 / math.sqrt(2),
        "fuse-breaking": 86 / 0.03,
        "pre-charge-energy": 0.5 * 2000e-6 * 86**2,
        "pre-charge-peak": 86 / 50,
        "bleed-heat": 86**2 / 4000,
        "low-voltage-from-battery": found["low-voltage-total"].value / 0.9 / 77,
    }
    for name, value in by_hand.items():
        assert value == pytest.approx(found[name].value, abs=6e-4), name
    assert pytest.approx(found["isolation-dc"].bound) == 8.6
    assert pytest.approx(found["isolation-joined"].bound) == 43.0
    assert "Voltage class B, battery full" == found["voltage-class"].label


def test_power_current_and_sagging_voltage_belong_together() -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    found = checks(compiled, cells="many-cells", warmth="hot-wire")
    current_a, power_kw = found["continuous-nominal"].value, found["continuous-power"].value
    assert current_a is not None
    assert power_kw is not None
    assert power_kw * 1000 == pytest.approx(current_a * (77 - 0.02 * current_a), abs=1.0)


def test_more_current_flows_the_emptier_the_battery() -> None:
    found = checks(compiled_of(electrical_catalog(), VAN), cells="many-cells")
    rising = [found[f"continuous-{moment}"].value for moment in ("full", "nominal")]
    assert rising == sorted(rising)
    assert found["design-current"].value >= rising[-1]  # type: ignore[operator]


def test_an_inverter_that_holds_back_keeps_the_voltage_at_its_least() -> None:
    found = checks(compiled_of(electrical_catalog(), VAN), cells="few-cells")
    assert "beyond" == found["sag-aged"].verdict
    # Source: Ohm's law: from 65 V down to the inverter's 60 V over 0.03 Ω grown by 1.4.
    assert pytest.approx(found["continuous-aged"].value, abs=1e-3) == (65 - 60) / (0.03 * 1.4)


@pytest.mark.parametrize("cells", ["few-cells", "many-cells"])
@pytest.mark.parametrize("warmth", ["scarf", "hot-wire"])
@pytest.mark.parametrize("asked", [0.0, 7.5, 60.0])
def test_a_check_is_beyond_exactly_where_a_limit_on_its_fact_is_broken(
    cells: str, warmth: str, asked: float
) -> None:
    limits = [
        limit(name, at_most=asked if "seconds" in name else -asked)
        if "over" in name or "under" in name or "seconds" in name
        else limit(name, at_least=asked)
        for name in sorted(set(FACT_OF_CHECK.values()))
    ]
    compiled = compiled_of(with_limits(electrical_catalog(), *limits), VAN)
    choices = choices_of(compiled, cells=cells, warmth=warmth)
    found = checks(compiled, cells=cells, warmth=warmth)
    values = {e.name: e.low for e in extents_of_complete(compiled.book, choices)}
    for name, fact in FACT_OF_CHECK.items():
        if fact not in values:
            assert name not in found or "not stated" == found[name].verdict
            continue
        forms = next(f for f in compiled.limits if f.limit.limit == fact)
        if fact == "rated_voltage_margin_v":
            together = [found[f"{part}-voltage"].verdict for part in ("cable", "fuse", "contactor")]
            assert forms.keeps(choices) == (set(together) == {"kept"})
        else:
            assert forms.keeps(choices) == (found[name].verdict == "kept"), name


# Source: Ohm's law; a warm battery of half the resistance drives twice the current.
def test_a_warm_battery_shorts_with_more_current() -> None:
    catalog = electrical_catalog()
    cool = checks(compiled_of(catalog, VAN))["fuse-breaking"].value
    parts = tuple(
        part.model_copy(update={"resistance_percent_at": {0: 200, 20: 100, 40: 50}})
        if isinstance(part, Pack)
        else part
        for part in catalog.components
    )
    warm = checks(compiled_of(changed(catalog, "warm", components=parts), VAN))["fuse-breaking"]
    assert cool is not None
    assert pytest.approx(2 * cool, abs=1e-2) == warm.value


# Source: first principles: 10 kW into an empty battery of 65 V, 15 kW bounded by 150 A.
@pytest.mark.parametrize(("cells", "charging_a"), [("few-cells", 10_000 / 65), ("many-cells", 150)])
def test_charging_from_direct_voltage_counts_where_there_is_an_inlet(
    cells: str, charging_a: float
) -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    found = checks(compiled, cells=cells, plug="quick-plug")
    charging_a = min(charging_a, 150)
    assert pytest.approx(found["contactor-dc-charging"].value, abs=1e-3) == charging_a
    assert pytest.approx(found["fuse-dc-charging"].bound, abs=1e-3) == 1.25 * charging_a
    assert "beyond" == found["full-dc-inlet"].verdict
    without = checks(compiled, cells=cells, plug="slow-plug")
    assert not {"contactor-dc-charging", "fuse-dc-charging", "full-dc-inlet"} & set(without)


# Source: Ohm's law; 138 W at 13.8 V are 10 A, over 6 m out and 6 m back of 4 mm² copper at 60 °C.
def test_a_circuit_of_the_vehicle_is_held_against_drop_and_fuse() -> None:
    catalog = electrical_catalog()
    lamps = LowVoltageCircuit(id="lamps", label="Lamps", load_w=138, area_mm2=4, run_m=6, fuse_a=10)
    bare = LowVoltageCircuit(id="bare", label="Bare", load_w=162)
    vehicles = tuple(
        v.model_copy(update={"low_voltage_circuits": (lamps, bare)}) for v in catalog.vehicles
    )
    found = checks(compiled_of(changed(catalog, "circuits", vehicles=vehicles), VAN))
    drop_v = 10 * 1.72e-8 * (1 + 0.00393 * 40) * 12 / 4e-6
    assert pytest.approx(found["low-voltage-lamps-drop"].value, abs=1e-3) == drop_v
    assert "beyond" == found["low-voltage-lamps-drop"].verdict
    assert ("beyond", 12.5) == (
        found["low-voltage-lamps-fuse"].verdict,
        found["low-voltage-lamps-fuse"].bound,
    )
    assert not [name for name in found if name.startswith("low-voltage-bare-")]
    assert (138.0, 162.0) == (found["low-voltage-lamps"].value, found["low-voltage-bare"].value)
    assert "low-voltage-vehicle" not in found


def test_a_battery_that_states_nothing_for_long_bounds_no_continuous_power() -> None:
    assert "told" == checks(compiled_of(electrical_catalog(), VAN))["continuous-power"].verdict


def test_room_that_a_limit_asks_of_the_voltage_is_told_with_each_part() -> None:
    asking = with_limits(electrical_catalog(), limit("rated_voltage_margin_v", at_least=12.5))
    found = checks(compiled_of(asking, VAN), cells="many-cells", warmth="hot-wire")
    for name in ("cable-voltage", "fuse-voltage", "contactor-voltage"):
        assert "the catalog asks for 12.5 V more" in found[name].formula
    without = checks(compiled_of(electrical_catalog(), VAN), cells="many-cells", warmth="hot-wire")
    assert "asks" not in without["fuse-voltage"].formula


def test_every_check_says_how_and_from_where() -> None:
    for catalog in (electrical_catalog(), tiny_catalog()):
        for check in checks(compiled_of(catalog, VAN)).values():
            assert check.formula
            assert check.source
            assert check.label
            assert check.verdict != "not stated" or check.missing


@pytest.mark.parametrize("vehicle", ["fennick-linnet", "marnock-estuary", "tarrow-furlong"])
def test_the_house_choices_of_the_demo_keep_every_check(vehicle: str) -> None:
    compiled = compiled_of(load_catalog(Path("catalog")), vehicle)
    found = electrical_checks(compiled, compiled.offer.house_choices())
    assert [] == [c.label for c in found if c.verdict in {"beyond", "not stated"}]
    assert {c.topic for c in found} == {
        "Battery",
        "Voltage windows",
        "Currents of the battery",
        "High-voltage cables",
        "Main fuse",
        "Main contactors",
        "Pre-charge",
        "After switching off",
        "Voltage class and isolation",
        "12 V supply",
        "Wires and fuses of the 12 V side",
    }


def test_the_section_stands_in_the_spec() -> None:
    catalog = electrical_catalog()
    compiled = compiled_of(catalog, VAN)
    choices = compiled.offer.house_choices()
    whole = build_of(VAN).model_copy(update={"choices": choices})
    assert electrical_checks(compiled, choices) == specify(catalog, whole, Engines()).electrical
    assert () == specify(catalog, build_of(VAN), Engines()).electrical


def test_each_check_that_stands_for_a_fact_exists() -> None:
    found = checks(compiled_of(electrical_catalog(), VAN), plug="quick-plug")
    assert set() == set(FACT_OF_CHECK) - set(found)
    assert set() == HOLDS_BACK - set(found)


@pytest.mark.parametrize(("contactor_a", "verdict"), [(400.0, "kept"), (300.0, "beyond")])
def test_the_current_in_frost_is_held_against_the_weakest_rating(
    contactor_a: float, verdict: str
) -> None:
    catalog = electrical_catalog()
    amps = {"main_contactor": contactor_a, "main_fuse": 900.0}
    components = tuple(
        part.model_copy(update={"rated_current_a": amps[part.kind]}) if part.kind in amps else part
        for part in catalog.components
    )
    compiled = compiled_of(changed(catalog, f"{contactor_a} A", components=components), VAN)
    found = checks(compiled, warmth="hot-wire")
    frost, sized = found["frost-current"], found["design-current"]
    assert verdict == frost.verdict
    assert frost.bound is not None
    assert contactor_a == frost.bound
    assert "held against the ratings below" in sized.formula


def test_the_peak_is_told_beside_the_fuse_whose_curve_nobody_has() -> None:
    found = checks(compiled_of(electrical_catalog(), VAN))
    greatest = max(
        check.value or 0.0
        for name, check in found.items()
        if name.startswith("peak-") and check.unit == "A"
    )
    assert greatest == found["fuse-peak"].value
    assert "not checked here" in found["fuse-peak"].formula
