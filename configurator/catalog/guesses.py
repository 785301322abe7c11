"""What a value probably is where nobody knows it, from what kind of thing it belongs to.

A guess is wide on purpose: it widens every band that is told, until somebody measures.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, Literal, TypeAlias, TypeGuard

BodyType: TypeAlias = Literal["saloon", "small-bus", "van", "open-utility", "tourer"]
Construction: TypeAlias = Literal["radial", "crossply"]

GUESSED_FROM = {
    "drag_area_m2": "body_type",
    "auxiliary_power_w": "body_type",
    "cabin_heat_loss_w_per_k": "body_type",
    "rolling_resistance": "construction",
}
"""Field that may be left out → the field it is then guessed from."""

NARROWED_BY = {
    "drag_area_m2": "a coast-down test narrows it",
    "rolling_resistance": "a coast-down test narrows it",
    "auxiliary_power_w": "measuring the current of the 12 V circuits on a drive narrows it",
    "cabin_heat_loss_w_per_k": "measuring the heater's power on a cold day narrows it",
    "recovery_efficiency": "the maker's data sheet or a measured trip narrows it",
    "resistance_ohm": "measuring the voltage under a step of load narrows it",
    "capacity_sigma_percent": "a capacity test narrows it",
}
"""Field → what a person could do about the guess."""

_BODIES: dict[str, tuple[str, float, float, float, float]] = {
    "saloon": ("drag coefficient 0.40 to 0.48 on 1.8 to 2.1 m²", 0.86, 16, 60, 180),
    "small-bus": ("drag coefficient 0.42 to 0.46 on 2.8 to 3.0 m²", 1.28, 16, 95, 220),
    "van": ("drag coefficient 0.42 to 0.50 on 3.5 to 4.2 m²", 1.77, 16, 80, 200),
    "open-utility": ("drag coefficient 0.5 to 0.6 on 2.5 to 2.9 m²", 1.49, 16, 120, 180),
    "tourer": ("drag coefficient 0.5 to 0.7 on 1.4 to 1.8 m²", 0.96, 20, 130, 160),
}
"""Body type → words for the drag area, drag area [m²], its doubt [%], heat loss of the cabin [W/K],
12 V circuits on the average [W]. From memory, wide."""

_BODY_DOUBT_PERCENT = 40.0
_ROLLING = {"radial": (0.0135, 12.0, "0.012 to 0.015"), "crossply": (0.0175, 15.0, "0.015 to 0.02")}
_RECOVERY_BY_EFFICIENCY = 0.92
_RECOVERY_DOUBT_PERCENT = 12.0
_LOSS_HOURS = {"NMC": 0.035, "LFP": 0.045}
"""Resistance times energy by voltage squared [h], joints and contactors in it; from memory."""

_CAPACITY_DOUBT_PERCENT = {"new": 5.0, "used": 10.0}
_RESISTANCE_SHARE_PERCENT = 3.0
"""What an unknown resistance adds to the doubt about the energy that can be used."""

Raw = Mapping[str, Any]


def guess_vehicle(raw: Raw) -> Raw:
    """Fill in what a vehicle's body type tells; without a body type nothing is guessed.

    Examples
    --------
    >>> guess_vehicle({"body_type": "van"})["drag_area_m2"]["value"]
    1.77
    >>> guess_vehicle({"label": "A van"})
    {'label': 'A van'}
    """
    body = _BODIES.get(str(raw.get("body_type")))
    if body is None:
        return raw
    words, drag_area, drag_doubt, heat_loss, auxiliary = body
    of_body = f"a {raw['body_type']}; from memory, wide"
    return _filled(
        raw,
        {
            "drag_area_m2": _uncertain(drag_area, drag_doubt, f"{of_body}, {words}"),
            "cabin_heat_loss_w_per_k": _uncertain(heat_loss, _BODY_DOUBT_PERCENT, of_body),
            "auxiliary_power_w": _uncertain(auxiliary, _BODY_DOUBT_PERCENT, of_body),
        },
        "the body type",
    )


def guess_tyre(raw: Raw) -> Raw:
    """Fill in what a tyre's construction tells; without one nothing is guessed.

    Examples
    --------
    >>> guess_tyre({"construction": "crossply"})["rolling_resistance"]["value"]
    0.0175
    """
    known = _ROLLING.get(str(raw.get("construction")))
    if known is None:
        return raw
    value, doubt, words = known
    source = f"{raw['construction']} tyres have {words}; from memory, wide"
    rolling = {"rolling_resistance": _uncertain(value, doubt, source)}
    return _filled(raw, rolling, "the tyre's construction")


def guess_motor(raw: Raw) -> Raw:
    """Fill in what a motor recovers while braking, from how well it drives.

    Examples
    --------
    >>> guess_motor({"efficiency": {"value": 0.9}})["recovery_efficiency"]["value"]
    0.828
    """
    efficiency = raw.get("efficiency")
    driving = efficiency.get("value") if isinstance(efficiency, Mapping) else None
    if not _is_number(driving) or not 0 < driving <= 1:
        return raw
    recovered = round(_RECOVERY_BY_EFFICIENCY * driving, 4)
    source = "somewhat less than it drives with; common practice, no source"
    recovery = {"recovery_efficiency": _uncertain(recovered, _RECOVERY_DOUBT_PERCENT, source)}
    return _filled(raw, recovery, "the motor's efficiency")


def guess_pack(raw: Raw) -> Raw:
    """Fill in a pack's resistance from chemistry, energy and voltage, and its doubt from its age.

    An unknown resistance also widens the doubt about the capacity.

    Examples
    --------
    >>> guessed = guess_pack({"chemistry": "NMC", "capacity_kwh": 40, "nominal_voltage_v": 350,
    ...     "modules_are": "used"})
    >>> guessed["resistance_ohm"], guessed["capacity_sigma_percent"]
    (0.1072, 10.44)
    """
    usual = _CAPACITY_DOUBT_PERCENT.get(str(raw.get("modules_are")))
    doubt = raw.get("capacity_sigma_percent", usual)
    found: dict[str, object] = {} if doubt is None else {"capacity_sigma_percent": doubt}
    filled = _filled(raw, found, "whether its modules are new or used")
    loss_h = _LOSS_HOURS.get(str(raw.get("chemistry")))
    energy_kwh, voltage_v = raw.get("capacity_kwh"), raw.get("nominal_voltage_v")
    if "resistance_ohm" in raw or loss_h is None or not _is_number(doubt):
        return filled
    if not _is_number(energy_kwh) or not _is_number(voltage_v) or energy_kwh <= 0:
        return filled
    wider = round(math.hypot(doubt, _RESISTANCE_SHARE_PERCENT), 2)
    resistance = {"resistance_ohm": round(loss_h * voltage_v**2 / (1000 * energy_kwh), 4)}
    guessed = _filled(filled, resistance, "chemistry, energy and voltage")
    return {**guessed, "capacity_sigma_percent": wider}


def guess_sentence(field: str, guessed_from: str) -> str:
    """Say that a value is guessed, and what narrows it.

    Examples
    --------
    >>> guess_sentence("drag_area_m2", "the body type")
    'guessed from the body type; a coast-down test narrows it'
    """
    return f"guessed from {guessed_from}; {NARROWED_BY[field]}"


def _filled(raw: Raw, found: Mapping[str, object], guessed_from: str) -> Raw:
    missing = {field: value for field, value in found.items() if field not in raw}
    if not missing:
        return raw
    before = raw.get("guessed")
    told = {
        **(before if isinstance(before, Mapping) else {}),
        **dict.fromkeys(missing, guessed_from),
    }
    return {**raw, **missing, "guessed": told}


def _uncertain(value: float, sigma_percent: float, source: str) -> dict[str, object]:
    return {
        "value": value,
        "sigma_percent": sigma_percent,
        "basis": "guessed",
        "source": f"Guessed from what is usual for {source}",
    }


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
