"""Facts that physics computes from a drive state; each tells what it reads and how it moves.

A fact that reads the mass and the effects moves one way with each of them: `falls` says that more
mass, drag, rolling resistance, heat loss or auxiliary power never raises it. The exactness of every
answer about such a fact rests on that, and tests hold it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from configurator.build_spec.charging_facts import charging_hours_from
from configurator.build_spec.drive_state import DriveState, Parts
from configurator.build_spec.offer import NO_EFFECTS, EffectMask, Offer
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Charger, Motor, Pack, Slot
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.rule import FactName

ELECTRICAL_FIELDS: dict[Slot, frozenset[str]] = {
    "pack": frozenset(
        {
            "capacity_kwh",
            "usable_percent",
            "nominal_voltage_v",
            "full_voltage_v",
            "empty_voltage_v",
            "resistance_ohm",
            "resistance_percent_at",
            "peak_charge_kw",
            "charge_percent_at",
            "chemistry",
            "ac_taper_from_percent",
            "dc_taper_from_percent",
        }
    ),
    "motor": frozenset({"min_voltage_v", "max_voltage_v"}),
    "charger": frozenset(
        {
            "ac_power_kw",
            "phases",
            "max_current_a",
            "inlet_current_a",
            "efficiency",
            "min_voltage_v",
            "max_voltage_v",
        }
    ),
    "dc_inlet": frozenset({"max_power_kw", "max_current_a", "min_voltage_v", "max_voltage_v"}),
}

MassKind = str
"""`driver`, `laden` or `train` (laden with trailer): the mass a fact reads; empty for none."""

Evaluate = Callable[[Sequence[DriveState]], list[float | None]]


@dataclass(frozen=True)
class DriveFact:
    """A fact of a drive state; `evaluate` gives None where what is fitted has no such fact."""

    name: FactName
    case: str | None
    reads: Mapping[Slot, frozenset[str]]
    """The fields it reads of the component in each slot; alike there is alike to the fact."""
    effects: EffectMask
    """Which effects it reads: drag, rolling resistance, heat loss, auxiliary power."""
    mass: MassKind
    falls: bool
    evaluate: Evaluate


@dataclass(frozen=True)
class Surroundings:
    """What every drive fact of a build needs besides the state."""

    catalog: Catalog
    offer: Offer

    def parts(self, state: DriveState) -> Parts:
        """Look up the components of a state, the battery with its measured capacity if there is."""
        by_id = self.catalog.component_by_id
        parts = {slot: by_id[component] for slot, component in state.slots}
        measured, pack = self.offer.vehicle.measured_capacity_kwh, parts.get("pack")
        if measured is not None and isinstance(pack, Pack):
            parts["pack"] = _with_capacity(pack, measured)
        return Parts(parts)


def _with_capacity(pack: Pack, measured: UncertainValue) -> Pack:
    guessed = {name: of for name, of in pack.guessed.items() if name != "capacity_sigma_percent"}
    counted = {
        "capacity_kwh": measured.value,
        "capacity_sigma_percent": measured.sigma_percent,
        "guessed": guessed,
    }
    return pack.model_copy(update=counted)


def electrical_facts(around: Surroundings) -> list[DriveFact]:
    """Facts of the electrical set that no mass moves: energy, voltages, charging times."""

    def fact(
        name: FactName,
        case: str | None,
        slots: Collection[Slot],
        compute: Callable[[Parts], float | None],
    ) -> DriveFact:
        return DriveFact(
            name,
            case,
            {slot: ELECTRICAL_FIELDS[slot] for slot in slots},
            effects=NO_EFFECTS,
            mass="",
            falls=True,
            evaluate=lambda states: [compute(around.parts(state)) for state in states],
        )

    facts = [
        fact("usable_energy_kwh", None, {"pack"}, _usable_energy_kwh),
        fact("pack_voltage_over_v", None, {"pack", "motor"}, lambda p: _over_v(p, "motor")),
        fact("pack_voltage_under_v", None, {"pack", "motor"}, lambda p: _under_v(p, "motor")),
        fact("charger_voltage_over_v", None, {"pack", "charger"}, lambda p: _over_v(p, "charger")),
        fact(
            "charger_voltage_under_v", None, {"pack", "charger"}, lambda p: _under_v(p, "charger")
        ),
    ]
    for source in around.catalog.charging_sources:
        slots: set[Slot] = {"pack", "charger" if source.supply == "ac" else "dc_inlet"}
        facts.append(fact("charging_hours", source.id, slots, charging_hours_from(source)))
    return facts


def _usable_energy_kwh(parts: Parts) -> float | None:
    pack = parts.get("pack", Pack)
    return None if pack is None else pack.capacity_kwh * pack.usable_percent / 100


def _user_of_pack(parts: Parts, slot: Slot) -> Motor | Charger | None:
    return parts.get("motor", Motor) if slot == "motor" else parts.get("charger", Charger)


def _over_v(parts: Parts, slot: Slot) -> float | None:
    pack, user = parts.get("pack", Pack), _user_of_pack(parts, slot)
    return None if pack is None or user is None else pack.full_voltage_v - user.max_voltage_v


def _under_v(parts: Parts, slot: Slot) -> float | None:
    pack, user = parts.get("pack", Pack), _user_of_pack(parts, slot)
    return None if pack is None or user is None else user.min_voltage_v - pack.empty_voltage_v
