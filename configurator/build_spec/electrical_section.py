"""The electrical set of a complete build: every check with numbers, bound, formula and source.

A computed check prepares the work of a competent person, and approves nothing.
"""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.electrical_breaking import contactor_checks, fuse_checks
from configurator.build_spec.electrical_carrying import cable_checks, current_checks
from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.electrical_guarding import (
    BLEED_WITHIN_S,
    PRE_CHARGE_WITHIN_S,
    bleed_checks,
    pre_charge_checks,
    protection_checks,
)
from configurator.build_spec.electrical_low_voltage import (
    CircuitLoad,
    circuit_checks,
    low_voltage_checks,
)
from configurator.build_spec.electrical_recorded import with_records
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.build_spec.electrical_voltages import battery_checks, window_checks
from configurator.catalog.models.build import AsBuilt
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.text import SafetyMessage

COMPETENT_PERSON = (
    "A competent person designs and signs the installation; local codes and the makers' papers "
    "come first. These checks are computed from what the catalog states and approve nothing."
)

HIGH_VOLTAGE_WORK = SafetyMessage(
    signal="danger",
    hazard="The drive battery and all that is joined to it carry dangerous voltage and current.",
    consequence="Work on live parts, or a part too weak for its current, kills and burns.",
    avoid=(
        "Let only competent persons for high-voltage vehicles design, build, test and sign.",
        "Switch off, lock, wait, test for absence of voltage, then work; never alone.",
        "Treat a value marked as beyond or not stated as open until a person has settled it.",
    ),
)


def electrical_checks(
    compiled: Compiled, choices: Mapping[str, str], as_built: AsBuilt | None = None
) -> tuple[ElectricalCheck, ...]:
    """Check the electrical set; nothing while choices are open.

    Parameters
    ----------
    compiled : Compiled
        The build with its limits.
    choices : mapping
        Group → option.
    as_built : AsBuilt, optional
        Whose records stand beside the checks they answer.
    """
    if len(choices) < len(compiled.offer.groups):
        return ()
    checks = _computed_checks(compiled, choices)
    if as_built is None:
        return checks
    return with_records(checks, as_built.records, compiled.catalog.as_built)


def _computed_checks(compiled: Compiled, choices: Mapping[str, str]) -> tuple[ElectricalCheck, ...]:
    fitted = ElectricalSet(compiled.offer.vehicle, compiled.book.parts_of(choices))
    bounds = _tightest_bounds(compiled)

    def room(name: FactName) -> float:
        return bounds.get(name, 0.0)

    return (
        *battery_checks(fitted),
        *window_checks(fitted, room),
        *current_checks(fitted),
        *cable_checks(fitted, room),
        *fuse_checks(fitted, room),
        *contactor_checks(fitted, room),
        *pre_charge_checks(fitted, bounds.get("pre_charge_seconds", PRE_CHARGE_WITHIN_S)),
        *bleed_checks(fitted, bounds.get("bleed_seconds", BLEED_WITHIN_S)),
        *protection_checks(fitted),
        *low_voltage_checks(fitted, _loads(compiled, choices), room("low_voltage_margin_w")),
        *circuit_checks(compiled.offer.vehicle.low_voltage_circuits),
    )


def _tightest_bounds(compiled: Compiled) -> dict[FactName, float]:
    """Take the tightest bound on each fact: of margins from below, of all else from above."""
    bounds: dict[FactName, float] = {}
    for forms in compiled.limits:
        name, from_above = forms.limit.limit, forms.limit.at_most is not None
        if from_above != ("margin" in name):
            tighter = min if from_above else max
            bounds[name] = tighter(bounds.get(name, forms.bound), forms.bound)
    return bounds


def _loads(compiled: Compiled, choices: Mapping[str, str]) -> list[CircuitLoad]:
    vehicle = compiled.offer.vehicle
    whole = CircuitLoad(
        "vehicle", f"Circuits of every {vehicle.label}", vehicle.base_low_voltage_load_w
    )
    loads = [
        CircuitLoad(circuit.id, circuit.label, circuit.load_w)
        for circuit in vehicle.low_voltage_circuits
    ] or [whole]
    for group, option in compiled.offer.pairs():
        load_w = option.effects.low_voltage_load_w
        if choices[group.id] == option.id and load_w != 0:
            loads.append(
                CircuitLoad(f"option-{group.id}", f"{group.label}: {option.label}", load_w)
            )
    return loads
