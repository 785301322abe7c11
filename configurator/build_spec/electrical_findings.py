"""Findings about the electrical set: what is not kept, what nobody stated, what grows weak."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from configurator.build_spec.electrical_breaking import CONTACTORS, FUSE
from configurator.build_spec.electrical_carrying import CABLES, CURRENTS
from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.electrical_guarding import BLEED, PRE_CHARGE, PROTECTION
from configurator.build_spec.electrical_low_voltage import CIRCUITS, LOW_VOLTAGE
from configurator.build_spec.electrical_voltages import BATTERY, WINDOWS
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import Finding
from configurator.catalog.models.rule import FactName

FACT_OF_CHECK: dict[str, FactName] = {
    "full-inverter": "pack_voltage_over_v",
    "empty-inverter": "pack_voltage_under_v",
    "full-charger": "charger_voltage_over_v",
    "empty-charger": "charger_voltage_under_v",
    "full-dc-inlet": "dc_inlet_voltage_over_v",
    "empty-dc-inlet": "dc_inlet_voltage_under_v",
    "cable-current": "cable_margin_a",
    "cable-voltage": "rated_voltage_margin_v",
    "fuse-current": "fuse_margin_a",
    "fuse-cable": "fuse_over_cable_a",
    "fuse-voltage": "rated_voltage_margin_v",
    "contactor-current": "contactor_margin_a",
    "contactor-voltage": "rated_voltage_margin_v",
    "pre-charge-time": "pre_charge_seconds",
    "bleed-time": "bleed_seconds",
    "bleed-resistor": "bleed_seconds",
    "low-voltage-total": "low_voltage_margin_w",
}
"""Checks that say the same as a fact; where a limit bounds that, its own finding tells it."""

HOLDS_BACK = frozenset({"sag-empty", "sag-aged", "sag-cold", "continuous-power", "peak-power"})
"""Checks whose breach weakens the drive, and endangers nothing once the inverter is set to it."""

SUBJECT = "electrical-set"

CONSEQUENCES = {
    BATTERY: "Cells beyond their voltage are harmed for good and may overheat and burn.",
    WINDOWS: "Above its window a part may fail and burn; below it the part does not work.",
    CURRENTS: "Cables, fuse or contactors too weak for the current overheat, open or burn.",
    CABLES: "Cables too weak for their load or voltage overheat, burn or break down.",
    FUSE: (
        "A main fuse too weak opens on the road or cannot break a short circuit; one too strong "
        "lets cables burn."
    ),
    CONTACTORS: "Contactors too weak grow hot and weld; the battery then cannot be switched off.",
    PRE_CHARGE: "A pre-charge too slow or too weak burns out, or lets the main contactors weld.",
    BLEED: "Whoever touches the circuit in the belief that it is dead may be killed.",
    PROTECTION: "Poor isolation or bonding lets current through whoever touches the vehicle.",
    LOW_VOLTAGE: "A converter too weak lets lamps, wipers and control units fail on the road.",
    CIRCUITS: "A wire or fuse too weak for its load starves it, opens on the road or overheats.",
}
"""What happens where a check of a topic is not kept."""


def electrical_findings(
    checks: Sequence[ElectricalCheck], limited: Collection[FactName]
) -> Iterator[Finding]:
    """Find what a person must settle before the electrical set is built.

    Parameters
    ----------
    checks : sequence of ElectricalCheck
        Of a complete build; empty while choices are open.
    limited : collection of FactName
        Facts that a limit of the catalog bounds.
    """
    beyond = [check for check in checks if check.verdict == "beyond"]
    weak = [check for check in beyond if check.id in HOLDS_BACK]
    for check in beyond:
        if check.recorded:
            yield _measured_beyond(check)
        elif check not in weak and FACT_OF_CHECK.get(check.id) not in limited:
            yield _not_kept(check)
    if weak:
        yield _weak(weak)
    unstated = [check for check in checks if check.verdict == "not stated"]
    if unstated:
        yield _not_stated(unstated)


def _not_kept(check: ElectricalCheck) -> Finding:
    return Finding(
        code="F031",
        severity="warns",
        subject=check.id,
        sentence=(
            f"{check.topic}: {check.label[:1].lower()}{check.label[1:]} comes to "
            f"{_figure(check, check.value)}; it must be {check.bound_is} "
            f"{_figure(check, check.bound)}. {CONSEQUENCES[check.topic]}"
        ),
        value=check.value,
        bound=check.bound,
        unit=check.unit,
        source=check.source,
        remedy="Have a competent person choose another part or other values before it is built.",
    )


def _measured_beyond(check: ElectricalCheck) -> Finding:
    """Tell of a measurement whatever the computed fact says, since that has no finding of it."""
    return Finding(
        code="F031",
        severity="warns",
        subject=check.id,
        sentence=(
            f"{check.topic}: {check.label[:1].lower()}{check.label[1:]} is recorded as "
            f"{check.recorded}; it must be {check.bound_is} {_figure(check, check.bound)}. "
            f"{CONSEQUENCES[check.topic]}"
        ),
        value=check.value,
        bound=check.bound,
        unit=check.unit,
        source=check.source,
        remedy=(
            "Keep the battery switched off and locked; let a competent person find and mend the "
            "cause, and measure again before it is driven or charged."
        ),
    )


def _weak(checks: Sequence[ElectricalCheck]) -> Finding:
    names = listed([f"{check.label[:1].lower()}{check.label[1:]}" for check in checks])
    return Finding(
        code="F032",
        severity="notes",
        subject=SUBJECT,
        sentence=(
            f"The inverter holds back before its full power, or must be set to: {names}. The "
            "vehicle then pulls less than its motor could; without the setting the battery may "
            "overheat."
        ),
        source=(
            "computed from the battery's resistance, the powers its maker allows and the "
            "inverter's least voltage"
        ),
        remedy=(
            "Have a competent person set the inverter to it, and tell the driver when to expect it."
        ),
    )


def _not_stated(checks: Sequence[ElectricalCheck]) -> Finding:
    names = listed(list(dict.fromkeys(check.missing for check in checks)))
    return Finding(
        code="F033",
        severity="notes",
        subject=SUBJECT,
        sentence=f"The electrical set cannot be checked whole: nobody stated {names}.",
        source="the catalog",
        remedy="State them with the parts, or have a competent person check these by hand.",
    )


def _figure(check: ElectricalCheck, value: float | None) -> str:
    return "?" if value is None else f"{value:,.{check.decimals}f} {check.unit}".rstrip()
