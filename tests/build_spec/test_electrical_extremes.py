"""Whatever a catalog may state, every check is made and every number is finite."""

import math
from collections.abc import Iterator
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

from configurator.build_spec.drive_state import Parts
from configurator.build_spec.electrical_breaking import contactor_checks, fuse_checks
from configurator.build_spec.electrical_carrying import cable_checks, current_checks
from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.electrical_derivation import derive_electrical
from configurator.build_spec.electrical_facts import electrical_set_facts
from configurator.build_spec.electrical_guarding import (
    bleed_checks,
    pre_charge_checks,
    protection_checks,
)
from configurator.build_spec.electrical_low_voltage import CircuitLoad, low_voltage_checks
from configurator.build_spec.electrical_set import ElectricalSet, Moment
from configurator.build_spec.electrical_voltages import battery_checks, window_checks
from configurator.catalog.models.component import Component, Slot
from tests.build_spec.electrical_builds import electrical_catalog
from tests.build_spec.tiny_builds import compiled_of

ADAPTER: TypeAdapter[Component] = TypeAdapter(Component)
NAMED = {"label": "Part", "maker": "Invented Works", "source": "invented for tests"}
FACTS = [
    fact.name
    for fact in electrical_set_facts(compiled_of(electrical_catalog(), "clover-van").book.around)
]


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, exclude_min=True, exclude_max=True, allow_subnormal=False)


def rated(value: st.SearchStrategy[float]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(
        {"value": value, "sigma_percent": st.just(5), "source": st.just("invented for tests")}
    )


def maybe(value: st.SearchStrategy[float]) -> st.SearchStrategy[float | None]:
    return st.none() | value


OF_KIND: dict[Slot, dict[str, st.SearchStrategy[Any]]] = {
    "traction_cable": {
        "area_mm2": between(1, 400),
        "rated_current_a": rated(between(1, 2000)),
        "max_conductor_c": between(40, 300),
        "rated_voltage_v": between(20, 3000),
    },
    "main_fuse": {
        "rated_current_a": between(1, 2000),
        "rated_voltage_v": between(20, 3000),
        "breaking_current_a": between(100, 300_000),
    },
    "main_contactor": {
        "rated_current_a": between(1, 2000),
        "peak_current_a": between(1, 6000),
        "rated_voltage_v": between(20, 3000),
    },
    "pre_charge": {"resistor_ohm": between(0.1, 10_000), "pulse_energy_j": between(0, 100_000)},
    "converter": {"rating_w": between(50, 10_000), "efficiency": between(0.6, 0.99)},
    "charger": {
        "ac_power_kw": st.just(6.6),
        "phases": st.just(1),
        "max_current_a": st.just(32),
        "efficiency": st.just(0.9),
        "min_voltage_v": between(10, 1000),
        "max_voltage_v": between(10, 1000),
        "socket_label": st.just("C"),
    },
    "dc_inlet": {
        "max_power_kw": between(1, 400),
        "max_current_a": between(1, 1000),
        "min_voltage_v": maybe(between(10, 1500)),
        "max_voltage_v": maybe(between(10, 1500)),
        "socket_label": st.just("K"),
    },
}

CHANGED: dict[str, dict[str, st.SearchStrategy[Any]]] = {
    "pack": {
        "full_voltage_v": between(20, 1000),
        "empty_voltage_v": between(20, 1000),
        "nominal_voltage_v": between(20, 1000),
        "resistance_ohm": st.floats(0.0005, 2),
        "aged_resistance_percent": st.floats(100, 400),
        "module_series": st.none() | st.integers(1, 400),
        "module_parallel": st.none() | st.integers(1, 100),
    },
    "motor": {
        "continuous_power_kw": between(1, 400),
        "peak_power_kw": between(1, 500),
        "min_voltage_v": between(10, 1000),
        "max_voltage_v": between(10, 1000),
        "link_capacitance_uf": maybe(between(1, 20_000)),
        "bleed_ohm": maybe(between(10, 10_000_000)),
    },
}


@st.composite
def sets(draw: st.DrawFn) -> ElectricalSet:
    catalog = electrical_catalog()
    parts: dict[Slot, Component] = {}
    for component in (catalog.component_by_id["pack-few"], catalog.component_by_id["hum-30"]):
        if draw(st.integers(0, 9)):
            changes = draw(st.fixed_dictionaries(CHANGED[component.kind]))
            parts[component.kind] = component.model_copy(update=changes)
    for slot, fields in OF_KIND.items():
        if draw(st.integers(0, 4)):
            values = draw(st.fixed_dictionaries(fields))
            parts[slot] = ADAPTER.validate_python({"id": "part", "kind": slot, **NAMED, **values})
    vehicle = catalog.vehicles[0].model_copy(
        update={
            "cable_ambient_c": draw(maybe(between(0, 150))),
            "cable_run_m": draw(maybe(between(0, 20))),
        }
    )
    return ElectricalSet(vehicle, Parts(parts))


def every_check(fitted: ElectricalSet) -> Iterator[ElectricalCheck]:
    yield from battery_checks(fitted)
    yield from window_checks(fitted, lambda _: 0.0)
    yield from current_checks(fitted)
    yield from cable_checks(fitted, lambda _: 0.0)
    yield from fuse_checks(fitted, lambda _: 0.0)
    yield from contactor_checks(fitted, lambda _: 0.0)
    yield from pre_charge_checks(fitted, 1.0)
    yield from bleed_checks(fitted, 60.0)
    yield from protection_checks(fitted)
    yield from low_voltage_checks(fitted, [CircuitLoad("all", "All", 300.0)], 0.0)


@settings(max_examples=150, deadline=None)
@given(fitted=sets())
def test_every_check_is_made_and_every_number_is_finite(fitted: ElectricalSet) -> None:
    for check in every_check(fitted):
        numbers = (check.value, check.bound, check.margin)
        assert all(number is None or math.isfinite(number) for number in numbers), check
        if check.verdict in {"kept", "beyond"}:
            assert check.margin is not None
            assert (check.margin >= 0) == (check.verdict == "kept")
        assert check.verdict != "not stated" or check.missing, check


SAID_TO_MISS: dict[str, Slot] = {
    "a battery": "pack",
    "a motor": "motor",
    "a 12 V converter": "converter",
    "the main fuse that is fitted": "main_fuse",
    "the contactors that are fitted": "main_contactor",
    "the pre-charge that is fitted": "pre_charge",
}
"""What a check may ask for by itself, and the slot that is then empty."""


@settings(max_examples=150, deadline=None)
@given(fitted=sets())
def test_nothing_that_is_fitted_or_stated_is_told_as_missing(fitted: ElectricalSet) -> None:
    stated = {
        "the length of the cables": fitted.vehicle.cable_run_m,
        "how warm it gets around the cables": fitted.vehicle.cable_ambient_c,
        "the capacitance of the inverter's link": fitted.link_f(),
        "the bleed of the inverter": None if fitted.motor is None else fitted.motor.bleed_ohm,
        **{words: fitted.parts.by_slot.get(slot) for words, slot in SAID_TO_MISS.items()},
    }
    for check in every_check(fitted):
        if check.verdict == "not stated" and check.missing in stated:
            assert stated[check.missing] is None, check
        assert "a battery and a motor" != check.missing or not (fitted.pack and fitted.motor), check


@settings(max_examples=100, deadline=None)
@given(fitted=sets())
def test_every_derivation_is_made_of_finite_numbers(fitted: ElectricalSet) -> None:
    for name in FACTS:
        derived = derive_electrical(fitted, name)
        if derived is not None:
            assert all(math.isfinite(step.value) for step in derived.steps)
            assert all(math.isfinite(stated.value) for stated in derived.inputs)


# Source: UN Regulation No. 100 asks for isolation of circuits above 60 V of direct voltage only.
@settings(max_examples=100, deadline=None)
@given(fitted=sets())
def test_what_the_regulation_does_not_ask_for_is_not_put_in_its_mouth(
    fitted: ElectricalSet,
) -> None:
    for check in protection_checks(fitted):
        if check.id in {"isolation-dc", "isolation-joined"}:
            assert fitted.full_v is not None
            assert ("asked for above 60 V only" in check.formula) == (fitted.full_v <= 60)
        if check.id == "isolation-inlet":
            assert "charger" in fitted.parts.by_slot


# Source: first principles: no current gives more than a quarter of the square of the voltage by R.
@settings(max_examples=100, deadline=None)
@given(fitted=sets())
def test_a_battery_that_cannot_give_the_power_keeps_no_sag(fitted: ElectricalSet) -> None:
    sagging = {check.id: check for check in window_checks(fitted, lambda _: 0.0)}
    moments: tuple[Moment, ...] = ("empty", "aged", "cold")
    for moment in moments:
        load = fitted.load("continuous", moment)
        if load is not None and not load.is_enough:
            assert "beyond" == sagging[f"sag-{moment}"].verdict
