"""Charging in words: what a source offers, what limits it, which letter to look for."""

from __future__ import annotations

from configurator.build_spec.charging_result import ChargingLine
from configurator.catalog.models.text import SafetyMessage
from configurator.physics.charging_limits import LimitedBy

CHARGING_CARE = SafetyMessage(
    signal="warning",
    hazard="Charging joins the vehicle's body to the mains and its protective earth for hours.",
    consequence=(
        "A missing earth can put the body at mains voltage and kill whoever touches it; a worn "
        "socket or a thin extension lead overheats and burns."
    ),
    avoid=(
        "Have a licensed electrician check circuit, residual-current device and earthing of the "
        "supply before the first charge, and fit the wall unit; local codes come first.",
        "Use no extension lead, adapter or damaged cable, and never a plug that grows hot.",
        "Compare the letters of EN 17186 on vehicle, plug and unit; where they differ, do not plug "
        "in.",
    ),
)

LIMIT_WORDS: dict[LimitedBy, str] = {
    "source": "source",
    "cable": "cable",
    "inlet": "inlet",
    "charger": "charger",
    "battery": "battery",
    "temperature": "cold battery",
}

HOW_COMPUTED = (
    "Computed, by the weakest of source, cable, inlet, charger and battery, with a power that "
    "falls near full, less what heats the battery. A source is left out where the voltages of "
    "unit, charger or inlet do not hold the battery's. Range gained: the band of the case named, "
    "over the whole time. Energy is what the meter counts, with the losses of charger and battery; "
    "cost by the tariffs of the day they were looked up. A plug letter is that of EN 17186."
)


def limit_words(line: ChargingLine) -> str:
    """Say what limits the power; empty while choices are open.

    Examples
    --------
    >>> line = ChargingLine(source_id="a", label="A", supply="ac", from_percent=10,
    ...     to_percent=100, low_hours=11, high_hours=11, pilot_duty_percent=26.7, phases=3,
    ...     limited_by="source", phases_used=1)
    >>> limit_words(line)
    'source, one phase of its three'
    """
    if line.limited_by is None:
        return ""
    limit = LIMIT_WORDS[line.limited_by]
    if line.supply == "ac" and line.phases == 3 and line.phases_used == 1:
        return f"{limit}, one phase of its three"
    return limit


def label_words(line: ChargingLine) -> str:
    """Say which letter to look for, and where."""
    if not line.socket_label:
        return ""
    plug = "the unit's plug" if line.supply == "dc" else "the cable's plug"
    return f"{line.socket_label}, on inlet and {plug}"


def supply_words(line: ChargingLine) -> str:
    """Say what the source offers.

    Examples
    --------
    >>> line = ChargingLine(source_id="a", label="A", supply="ac", from_percent=10,
    ...     to_percent=100, low_hours=5, high_hours=5, pilot_duty_percent=None, voltage_v=230,
    ...     current_a=16, phases=3)
    >>> supply_words(line)
    'AC, 230 V, 16 A, three phases'
    """
    if line.voltage_v is None or line.current_a is None:
        return {"ac": "AC", "dc": "DC"}[line.supply]
    if line.supply == "dc":
        return f"DC, up to {line.voltage_v:g} V, {line.current_a:g} A"
    phases = "three phases" if line.phases == 3 else "one phase"
    return f"AC, {line.voltage_v:g} V, {line.current_a:g} A, {phases}"
