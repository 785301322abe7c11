"""How battery voltages, usable energy and charging times came about."""

from __future__ import annotations

from configurator.build_spec.charging_facts import (
    END_POWER_SHARE,
    ChargingPower,
    charging_power,
    hours_at,
    taper_from_percent,
)
from configurator.build_spec.derivations.measured_input import as_measured
from configurator.build_spec.derivations.worked import (
    FIRST_PRINCIPLES,
    Question,
    Worked,
    by_practice,
    of_component,
    step,
)
from configurator.build_spec.electrical_derivation import derive_electrical
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.build_spec.sentences import source_words
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import Charger, Motor, Pack
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.vehicle import Vehicle

_WINDOWS: frozenset[FactName] = frozenset(
    {
        "pack_voltage_over_v",
        "pack_voltage_under_v",
        "charger_voltage_over_v",
        "charger_voltage_under_v",
    }
)


def derive_power(question: Question, name: FactName, case: str | None) -> Worked | None:
    """Work out a fact of the battery and what hangs on it."""
    if name == "usable_energy_kwh":
        return _usable_energy(question)
    if name in _WINDOWS:
        return _window(question, name)
    if name == "charging_hours":
        return _charging(question, case)
    derived = derive_electrical(ElectricalSet(question.vehicle, question.parts), name)
    if derived is None:
        return None
    return Worked(
        derived.formula,
        derived.source,
        derived.inputs,
        derived.steps,
        narrowed_by=("Measure on the finished vehicle, by a person competent for high voltage",),
    )


def energy_inputs(pack: Pack, vehicle: Vehicle) -> tuple[StatedInput, ...]:
    """State what the usable energy comes from."""
    sigma = pack.capacity_kwh * pack.capacity_sigma_percent / 100
    capacity = of_component(pack, "capacity", "capacity", pack.capacity_kwh, "kWh", sigma=sigma)
    return (
        as_measured(capacity, vehicle.measured_capacity_kwh),
        of_component(pack, "usable", "usable share", pack.usable_percent, "%"),
    )


def _usable_energy(question: Question) -> Worked | None:
    pack = question.parts.get("pack", Pack)
    if pack is None:
        return None
    return Worked(
        "capacity times the share that is used",
        "the maker's data sheet",
        energy_inputs(pack, question.vehicle),
        (
            step("Capacity", pack.capacity_kwh, "kWh", 2),
            step("Share used", pack.usable_percent, "%"),
            step("Usable", pack.capacity_kwh * pack.usable_percent / 100, "kWh", 2),
        ),
        narrowed_by=("Measure the capacity of this very pack from full to empty",),
    )


def _window(question: Question, name: FactName) -> Worked | None:
    pack = question.parts.get("pack", Pack)
    is_motor = name.startswith("pack")
    user: Motor | Charger | None = (
        question.parts.get("motor", Motor) if is_motor else question.parts.get("charger", Charger)
    )
    if pack is None or user is None:
        return None
    if name.endswith("over_v"):
        high, low = ("full battery", pack.full_voltage_v), ("greatest allowed", user.max_voltage_v)
    else:
        high, low = ("least allowed", user.min_voltage_v), ("empty battery", pack.empty_voltage_v)
    over = name.endswith("over_v")
    first, second = (pack, user) if over else (user, pack)
    return Worked(
        f"the {high[0]}'s voltage less the {low[0]}; above 0 it does not fit"
        if over
        else "the least voltage allowed less that of the empty battery; above 0 it does not fit",
        "the makers' data sheets",
        (
            of_component(first, "greater", high[0], high[1], "V"),
            of_component(second, "less", low[0], low[1], "V"),
        ),
        (
            step(f"Voltage, {high[0]}", high[1], "V"),
            step(f"Less voltage, {low[0]}", -low[1], "V"),
            step("Difference", high[1] - low[1], "V"),
        ),
        narrowed_by=("Take both voltages from the plates of the parts that were bought",),
    )


def _charging(question: Question, case: str | None) -> Worked | None:
    sources = question.compiled.catalog.charging_sources
    source = next((found for found in sources if found.id == case), None)
    pack = question.parts.get("pack", Pack)
    power = None if pack is None or source is None else charging_power(source, question.parts, pack)
    if source is None or pack is None or power is None or power.greatest_kw <= 0:
        return None
    taper = taper_from_percent(source, pack)
    usable_kwh = pack.capacity_kwh * pack.usable_percent / 100
    middle_v = power.voltages_v[1]
    before = _hours_before(source, pack, power, taper)
    whole = hours_at(source, pack, power)
    if whole is None:
        return None
    return Worked(
        "energy by power: full power up to the taper, then falling steadily with the charge; the "
        "full power is the least of what source, cable, inlet, charger and battery allow, less "
        "what heats the battery",
        f"{FIRST_PRINCIPLES}; integral of energy over power",
        (*energy_inputs(pack, question.vehicle), *_source_inputs(source, taper)),
        (
            *(
                step(
                    f"Power that the {limit.by} allows, battery half full",
                    limit.at(middle_v),
                    "kW",
                    2,
                )
                for limit in power.limits
            ),
            step(f"The least, set by the {power.decided_by.by}", power.kw_half_full, "kW", 2),
            step("Greatest power, less what heats the battery", power.greatest_stored_kw, "kW", 2),
            step(
                "Energy to put in",
                usable_kwh * (source.to_percent - source.from_percent) / 100,
                "kWh",
                2,
            ),
            step("Time before the taper", before, "h", 3),
            step("Time in the taper", whole - before, "h", 3),
            step("Both times together", whole, "h", 3),
        ),
        narrowed_by=("Time a full charge and note what the meter counted",),
    )


def _hours_before(source: ChargingSource, pack: Pack, power: ChargingPower, taper: float) -> float:
    """Charge as far as the taper, or to the end where that comes first [h]."""
    end = min(source.to_percent, taper)
    if end <= source.from_percent:
        return 0.0
    return hours_at(source.model_copy(update={"to_percent": end}), pack, power) or 0.0


def _source_inputs(source: ChargingSource, taper: float) -> tuple[StatedInput, ...]:
    words = source_words(source.source)
    return (
        by_practice("from-charge", f"{source.label}: from", source.from_percent, "%", words),
        by_practice("to-charge", f"{source.label}: to", source.to_percent, "%", words),
        by_practice("taper", "Power falls from", taper, "%", "the pack, else common practice"),
        by_practice(
            "end-power", "Power left when full", 100 * END_POWER_SHARE[source.supply], "%",
            "common practice, no source",
        ),
    )  # fmt: skip
