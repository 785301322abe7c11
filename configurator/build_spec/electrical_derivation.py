"""How each fact of the electrical set came about, step by step."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from configurator.build_spec.derivation import Derivation, DerivationStep
from configurator.build_spec.driving_inputs import losses_of
from configurator.build_spec.electrical_check import DATA_SHEETS, FIRST_PRINCIPLES, PRACTICE
from configurator.build_spec.electrical_inputs import carrying_inputs, drawing_inputs, of_part
from configurator.build_spec.electrical_set import ElectricalSet, battery_at
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.component import DcInlet
from configurator.catalog.models.rule import FactName
from configurator.physics.electrical_link import SAFE_VOLTAGE_V, TIME_CONSTANTS
from configurator.physics.electrical_sizing import FUSE_SHARE, RATED_AT_C


@dataclass(frozen=True)
class _Worked:
    """A derivation before it has its name."""

    formula: str
    source: str
    inputs: tuple[StatedInput, ...]
    steps: tuple[DerivationStep, ...]


def derive_electrical(fitted: ElectricalSet, name: FactName) -> Derivation | None:
    """Work out a fact of the electrical set so that a person with paper can follow.

    Parameters
    ----------
    fitted : ElectricalSet
        The parts of a complete build.
    name : FactName
        The fact.

    Returns
    -------
    Derivation or None
        None for another fact, or where a part or figure is missing.
    """
    work = _WORK.get(name)
    worked = None if work is None else work(fitted)
    if worked is None:
        return None
    return Derivation(
        fact=name,
        case=None,
        label=FACT_LABELS[name].label,
        formula=worked.formula,
        inputs=worked.inputs,
        steps=worked.steps,
        source=worked.source,
    )


def _step(words: str, value: float, unit: str, decimals: int = 1) -> DerivationStep:
    return DerivationStep(words=words, value=value, unit=unit, decimals=decimals)


def _drawing(fitted: ElectricalSet) -> tuple[DerivationStep, ...]:
    """Work out the continuous current; nothing where there is none."""
    motor, pack = fitted.motor, fitted.pack
    if motor is None or pack is None or fitted.design_current_a is None:
        return ()
    losses, shaft_w = losses_of(motor), motor.continuous_power_kw * 1000
    drive_w = shaft_w / losses.efficiency + losses.per_w * shaft_w**2 + losses.no_load_w
    converter_w, heater_w = fitted.converter_w(), fitted.heater_w()
    power_w = drive_w + converter_w + heater_w
    voltage_v, ohm = battery_at(pack, "aged")
    left = voltage_v**2 - 4 * ohm * power_w
    current_a = (voltage_v - math.sqrt(left)) / (2 * ohm) if left >= 0 else voltage_v / (2 * ohm)
    return (
        _step("Drive: continuous power by efficiency, and its other losses", drive_w, "W", 0),
        _step("12 V converter at its rating, by its efficiency", converter_w, "W", 0),
        _step("Heater at full power", heater_w, "W", 0),
        _step("At the battery's terminals together", power_w, "W", 0),
        _step("Resistance of the aged battery", ohm, "Ω", 4),
        _step("Current I that solves P = I × (V − I × R), battery empty", current_a, "A"),
    )


def _carrying(fitted: ElectricalSet) -> tuple[DerivationStep, ...]:
    cable, ambient_c = fitted.cable, fitted.vehicle.cable_ambient_c
    if cable is None or ambient_c is None:
        return ()
    cooler_k = max(cable.max_conductor_c - ambient_c, 0.0)
    factor = math.sqrt(cooler_k / (cable.max_conductor_c - RATED_AT_C))
    return (
        _step("Derating: root of (conductor − ambient) by (conductor − 30)", factor, "", 3),
        _step("Carried where it lies", cable.rated_current_a.value * factor, "A"),
    )


def _cable_margin(fitted: ElectricalSet) -> _Worked | None:
    drawing, carrying = _drawing(fitted), _carrying(fitted)
    if not drawing or not carrying:
        return None
    margin = carrying[-1].value - drawing[-1].value
    return _Worked(
        "what the cables carry where they lie, less the continuous current",
        f"IEC 60364-5-52 for the derating; {FIRST_PRINCIPLES} for the current",
        (*drawing_inputs(fitted), *carrying_inputs(fitted)),
        (*drawing, *carrying, _step("Carried, less the current", margin, "A")),
    )


def _fuse_margin(fitted: ElectricalSet) -> _Worked | None:
    fuse, drawing = fitted.fuse, _drawing(fitted)
    if fuse is None or not drawing:
        return None
    asked_a = FUSE_SHARE * drawing[-1].value
    return _Worked(
        f"rating of the fuse, less {FUSE_SHARE:g} times the continuous current",
        f"{PRACTICE}, for {FUSE_SHARE:g}; {FIRST_PRINCIPLES} for the current",
        (
            *drawing_inputs(fitted),
            of_part(fuse, "fuse-rating", "Rating", fuse.rated_current_a, "A"),
        ),
        (
            *drawing,
            _step(f"{FUSE_SHARE:g} times the current", asked_a, "A"),
            _step("Rating less that", fuse.rated_current_a - asked_a, "A"),
        ),
    )


def _fuse_over_cable(fitted: ElectricalSet) -> _Worked | None:
    fuse, carrying = fitted.fuse, _carrying(fitted)
    if fuse is None or not carrying:
        return None
    over_a = fuse.rated_current_a - carrying[-1].value
    return _Worked(
        "rating of the fuse, less what the cables carry where they lie",
        f"IEC 60364-5-52 for the derating; {PRACTICE}, for the fuse",
        (
            *carrying_inputs(fitted),
            of_part(fuse, "fuse-rating", "Rating", fuse.rated_current_a, "A"),
        ),
        (*carrying, _step("Rating less that", over_a, "A")),
    )


def _contactor_margin(fitted: ElectricalSet) -> _Worked | None:
    part, drawing = fitted.contactor, _drawing(fitted)
    if part is None or not drawing:
        return None
    rated = of_part(part, "contactor-rating", "Rating", part.rated_current_a, "A")
    margin = part.rated_current_a - drawing[-1].value
    return _Worked(
        "rating of a contactor, less the continuous current",
        f"{FIRST_PRINCIPLES} for the current; {DATA_SHEETS}",
        (*drawing_inputs(fitted), rated),
        (*drawing, _step("Rating less the current", margin, "A")),
    )


def _rated_voltage_margin(fitted: ElectricalSet) -> _Worked | None:
    parts = [part for part in (fitted.cable, fitted.fuse, fitted.contactor) if part is not None]
    if fitted.pack is None or not parts:
        return None
    least_v, full_v = min(part.rated_voltage_v for part in parts), fitted.pack.full_voltage_v
    rated = (
        of_part(part, f"{part.kind.replace('_', '-')}-voltage", "Rating", part.rated_voltage_v, "V")
        for part in parts
    )
    return _Worked(
        "the least voltage that the parts are rated for, less that of the full battery",
        DATA_SHEETS,
        (*rated, of_part(fitted.pack, "full-voltage", "Voltage when full", full_v, "V")),
        (
            _step("Least of the ratings", least_v, "V"),
            _step("Less the full battery", least_v - full_v, "V"),
        ),
    )


def _pre_charge_seconds(fitted: ElectricalSet) -> _Worked | None:
    part, motor, farad = fitted.pre_charge, fitted.motor, fitted.link_f()
    if part is None or motor is None or farad is None:
        return None
    once_s = part.resistor_ohm * farad
    return _Worked(
        "five times resistance times capacitance, after which 99.3 % of the voltage is reached",
        FIRST_PRINCIPLES,
        (
            of_part(part, "pre-charge-resistor", "Resistance", part.resistor_ohm, "Ω"),
            of_part(motor, "link-capacitance", "Capacitance of the link", farad * 1e6, "µF"),
        ),
        (
            _step("Resistance times capacitance", once_s, "s", 3),
            _step("Five of them", TIME_CONSTANTS * once_s, "s", 2),
        ),
    )


def _bleed_seconds(fitted: ElectricalSet) -> _Worked | None:
    pack, motor, farad = fitted.pack, fitted.motor, fitted.link_f()
    if pack is None or motor is None or motor.bleed_ohm is None or farad is None:
        return None
    once_s, turns = motor.bleed_ohm * farad, math.log(pack.full_voltage_v / SAFE_VOLTAGE_V)
    return _Worked(
        "resistance times capacitance times the logarithm of full voltage by 60 V",
        f"{FIRST_PRINCIPLES}; UN Regulation No. 100 and ISO 6469-3 for 60 V",
        (
            of_part(motor, "bleed", "Bleed", motor.bleed_ohm, "Ω"),
            of_part(motor, "link-capacitance", "Capacitance of the link", farad * 1e6, "µF"),
            of_part(pack, "full-voltage", "Voltage when full", pack.full_voltage_v, "V"),
        ),
        (
            _step("Resistance times capacitance", once_s, "s"),
            _step("Logarithm of full voltage by 60 V", turns, "", 3),
            _step("One times the other; none below 60 V", max(once_s * turns, 0.0), "s"),
        ),
    )


def _dc_inlet(fitted: ElectricalSet, *, over: bool) -> _Worked | None:
    pack, inlet = fitted.pack, fitted.parts.get("dc_inlet", DcInlet)
    if pack is None or inlet is None:
        return None
    bound_v = inlet.max_voltage_v if over else inlet.min_voltage_v
    if bound_v is None:
        return None
    full_v, empty_v = pack.full_voltage_v, pack.empty_voltage_v
    if over:
        pair: Sequence[StatedInput] = (
            of_part(pack, "full-voltage", "Voltage when full", full_v, "V"),
            of_part(inlet, "inlet-greatest", "Greatest voltage", bound_v, "V"),
        )
        words, difference_v = "Full battery less the inlet's greatest", full_v - bound_v
    else:
        pair = (
            of_part(inlet, "inlet-least", "Least voltage", bound_v, "V"),
            of_part(pack, "empty-voltage", "Voltage when empty", empty_v, "V"),
        )
        words, difference_v = "The inlet's least less the empty battery", bound_v - empty_v
    step = _step(words, difference_v, "V")
    return _Worked(f"{words[:1].lower()}{words[1:]}", DATA_SHEETS, tuple(pair), (step,))


_WORK: dict[FactName, Callable[[ElectricalSet], _Worked | None]] = {
    "cable_margin_a": _cable_margin,
    "fuse_margin_a": _fuse_margin,
    "fuse_over_cable_a": _fuse_over_cable,
    "contactor_margin_a": _contactor_margin,
    "rated_voltage_margin_v": _rated_voltage_margin,
    "pre_charge_seconds": _pre_charge_seconds,
    "bleed_seconds": _bleed_seconds,
    "dc_inlet_voltage_over_v": lambda fitted: _dc_inlet(fitted, over=True),
    "dc_inlet_voltage_under_v": lambda fitted: _dc_inlet(fitted, over=False),
}
