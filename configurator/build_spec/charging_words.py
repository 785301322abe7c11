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

COLD_CELLS = SafetyMessage(
    signal="warning",
    hazard=(
        "Charging harms lithium cells that are colder than their maker allows; many iron-phosphate "
        "cells must not be charged below 0 °C at all."
    ),
    consequence=(
        "Metal grows inside such a cell where nobody sees it; the battery loses charge for good, "
        "and may short-circuit within and burn, days or months later."
    ),
    avoid=(
        "Never charge with the cells below the cell maker's limit, and never bypass the battery's "
        "guard that slows or refuses the charge; a refusal is no fault.",
        "Plug in straight after driving, while the cells are warm, or wait where it is mild; never "
        "warm the battery with a fan heater, a blanket or a lamp.",
        "Have a competent person set the guard to the limits of the cell maker, which come before "
        "any time or power told here.",
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
    "falls near full, less what heats the battery. In the column of the cold battery its cells are "
    "as cold as that from the start to the end, which is the slowest case; colder still it takes "
    "longer, or is not charged at all. A source is left out where the voltages of "
    "unit, charger or inlet do not hold the battery's. Range gained: the band of the case named, "
    "over the whole time. Energy is what the meter counts, with the losses of charger and battery; "
    "cost by the tariffs of the day they were looked up. A plug letter is that of EN 17186."
)


def limit_words(line: ChargingLine) -> str:
    """Say what limits the power, warm and cold; empty while choices are open.

    Examples
    --------
    >>> line = ChargingLine(source_id="a", label="A", supply="ac", from_percent=10,
    ...     to_percent=100, low_hours=11, high_hours=11, pilot_duty_percent=26.7, phases=3,
    ...     limited_by="source", phases_used=1)
    >>> limit_words(line)
    'source, one phase of its three'
    >>> limit_words(line.model_copy(update={"cold_c": -5, "cold_limited_by": "temperature",
    ...     "cold_hours": 14.0, "phases_used": 3}))
    'source; at −5 °C the cold battery'
    """
    if line.limited_by is None:
        return ""
    limit = LIMIT_WORDS[line.limited_by]
    if line.supply == "ac" and line.phases == 3 and line.phases_used == 1:
        limit = f"{limit}, one phase of its three"
    return f"{limit}{_cold_limit(line)}"


def _cold_limit(line: ChargingLine) -> str:
    """Say what else limits the cold battery; nothing where it is the same."""
    if line.cold_c is None or line.cold_limited_by is None:
        return ""
    if line.cold_limited_by == line.limited_by:
        return ""
    at = f"at {line.cold_c:g} °C".replace("-", "\N{MINUS SIGN}")
    if line.cold_hours is None:
        return f"; {at} the cold battery takes no charge"
    article = "the " if line.cold_limited_by == "temperature" else ""
    return f"; {at} {article}{LIMIT_WORDS[line.cold_limited_by]}"


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
