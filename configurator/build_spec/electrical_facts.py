"""Facts of the electrical set; they depend on components alone, so that answers stay exact."""

from __future__ import annotations

from collections.abc import Callable, Collection

from configurator.build_spec.drive_facts import DriveFact, Surroundings
from configurator.build_spec.drive_state import DriveState
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.build_spec.offer import NO_EFFECTS
from configurator.catalog.models.component import DcInlet, Slot
from configurator.catalog.models.rule import FactName
from configurator.physics.electrical_sizing import FUSE_SHARE

SET_FIELDS: dict[Slot, frozenset[str]] = {
    "pack": frozenset(
        {"full_voltage_v", "empty_voltage_v", "resistance_ohm", "aged_resistance_percent"}
    ),
    "motor": frozenset(
        {
            "continuous_power_kw",
            "peak_power_kw",
            "efficiency",
            "efficiency_by_load",
            "no_load_loss_w",
            "min_voltage_v",
            "max_voltage_v",
            "link_capacitance_uf",
            "bleed_ohm",
        }
    ),
    "converter": frozenset({"rating_w", "efficiency"}),
    "heater": frozenset(
        {
            "max_heat_kw",
            "coefficient_of_performance",
            "max_cooling_kw",
            "cooling_coefficient",
        }
    ),
    "traction_cable": frozenset({"rated_current_a", "max_conductor_c", "rated_voltage_v"}),
    "main_fuse": frozenset({"rated_current_a", "rated_voltage_v"}),
    "main_contactor": frozenset({"rated_current_a", "rated_voltage_v"}),
    "pre_charge": frozenset({"resistor_ohm"}),
    "dc_inlet": frozenset({"min_voltage_v", "max_voltage_v"}),
}

SETS_KEPT = 5_000
"""Sets of parts whose currents are remembered."""

_DRAWS: frozenset[Slot] = frozenset({"pack", "motor", "converter", "heater"})
"""What the continuous current depends on."""


def electrical_set_facts(around: Surroundings) -> list[DriveFact]:
    """List the facts of cable, fuse, contactors, pre-charge, bleed and DC inlet."""
    known: dict[tuple[tuple[Slot, str], ...], ElectricalSet] = {}

    def fitted_in(state: DriveState) -> ElectricalSet:
        if state.slots not in known:
            if len(known) > SETS_KEPT:
                known.clear()
            known[state.slots] = ElectricalSet(around.offer.vehicle, around.parts(state))
        return known[state.slots]

    def fact(
        name: FactName,
        slots: Collection[Slot],
        compute: Callable[[ElectricalSet], float | None],
    ) -> DriveFact:
        return DriveFact(
            name,
            None,
            {slot: SET_FIELDS[slot] for slot in slots},
            effects=NO_EFFECTS,
            mass="",
            falls=True,
            evaluate=lambda states: [compute(fitted_in(state)) for state in states],
        )

    return [
        fact("cable_margin_a", {*_DRAWS, "traction_cable"}, _cable_margin_a),
        fact("fuse_margin_a", {*_DRAWS, "main_fuse"}, _fuse_margin_a),
        fact("fuse_over_cable_a", {"main_fuse", "traction_cable"}, _fuse_over_cable_a),
        fact("contactor_margin_a", {*_DRAWS, "main_contactor"}, _contactor_margin_a),
        fact(
            "rated_voltage_margin_v",
            {"pack", "traction_cable", "main_fuse", "main_contactor"},
            _rated_voltage_margin_v,
        ),
        fact("pre_charge_seconds", {"motor", "pre_charge"}, ElectricalSet.pre_charge_seconds),
        fact("bleed_seconds", {"pack", "motor"}, ElectricalSet.bleed_seconds),
        fact("dc_inlet_voltage_over_v", {"pack", "dc_inlet"}, _dc_inlet_over_v),
        fact("dc_inlet_voltage_under_v", {"pack", "dc_inlet"}, _dc_inlet_under_v),
    ]


def _cable_margin_a(fitted: ElectricalSet) -> float | None:
    carries_a, current_a = fitted.derated_cable_a(), fitted.design_current_a
    return None if carries_a is None or current_a is None else carries_a - current_a


def _fuse_margin_a(fitted: ElectricalSet) -> float | None:
    fuse, current_a = fitted.fuse, fitted.design_current_a
    if fuse is None or current_a is None:
        return None
    return fuse.rated_current_a - FUSE_SHARE * current_a


def _fuse_over_cable_a(fitted: ElectricalSet) -> float | None:
    fuse, carries_a = fitted.fuse, fitted.derated_cable_a()
    return None if fuse is None or carries_a is None else fuse.rated_current_a - carries_a


def _contactor_margin_a(fitted: ElectricalSet) -> float | None:
    contactor, current_a = fitted.contactor, fitted.design_current_a
    return None if contactor is None or current_a is None else contactor.rated_current_a - current_a


def _rated_voltage_margin_v(fitted: ElectricalSet) -> float | None:
    pack, rated_v = fitted.pack, fitted.rated_voltages_v()
    return None if pack is None or not rated_v else min(rated_v.values()) - pack.full_voltage_v


def _dc_inlet_over_v(fitted: ElectricalSet) -> float | None:
    pack, inlet = fitted.pack, fitted.parts.get("dc_inlet", DcInlet)
    if pack is None or inlet is None or inlet.max_voltage_v is None:
        return None
    return pack.full_voltage_v - inlet.max_voltage_v


def _dc_inlet_under_v(fitted: ElectricalSet) -> float | None:
    pack, inlet = fitted.pack, fitted.parts.get("dc_inlet", DcInlet)
    if pack is None or inlet is None or inlet.min_voltage_v is None:
        return None
    return inlet.min_voltage_v - pack.empty_voltage_v
