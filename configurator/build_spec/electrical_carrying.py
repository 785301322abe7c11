"""Checks of the battery's currents, and of the cables that carry them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from configurator.build_spec.electrical_check import (
    A_DRIVE,
    DATA_SHEETS,
    FIRST_PRINCIPLES,
    PRACTICE,
    CheckWords,
    ElectricalCheck,
    RoomAskedFor,
    asked_for,
)
from configurator.build_spec.electrical_set import COLD_C, Draw, ElectricalSet, Moment
from configurator.catalog.models.main_circuit import TractionCable
from configurator.physics.electrical_sizing import cable_resistance_ohm

CURRENTS = "Currents of the battery"
CABLES = "High-voltage cables"

MOMENT_WORDS: dict[Moment, str] = {
    "full": "battery full",
    "nominal": "battery at its nominal voltage",
    "empty": "battery empty",
    "aged": "battery empty and aged",
    "cold": f"battery empty at {COLD_C:g} °C".replace("-", "\N{MINUS SIGN}"),
}

GREATEST_DROP_PERCENT = 2.0
"""Of the empty battery's voltage, along the cables there and back; common practice, no source."""

_POWER = CheckWords(
    "power",
    CURRENTS,
    "power at the battery's terminals",
    "kW",
    "what the motor gives and loses, with the 12 V converter at its rating and the heater at full "
    "power",
    FIRST_PRINCIPLES,
    1,
)
_CURRENT = CheckWords(
    "current",
    CURRENTS,
    "",
    "A",
    "the current at which the sagging voltage gives that power; less where the inverter would fall "
    "below its least voltage and holds back",
    FIRST_PRINCIPLES,
)
_DESIGN = CheckWords(
    "design-current",
    CURRENTS,
    "What the set is sized for",
    "A",
    "continuous, battery empty and aged, everything running, without counting on the inverter to "
    "hold back; the greater current of a battery in frost ends as its own losses warm it, and what "
    "carries it is then cold as well: it is held against the ratings below, without that room",
    PRACTICE,
)
_FROST = CheckWords(
    "frost-current",
    CURRENTS,
    f"Continuous at {COLD_C:g} °C against the weakest rating".replace("-", "\N{MINUS SIGN}"),
    "A",
    "the current of the empty battery in frost, without counting on the inverter to hold back; "
    "bound: the least of the ratings of cables at 30 °C, fuse and contactors, which frost does not "
    "lower",
    f"{PRACTICE}, for counting frost by the ratings alone; {DATA_SHEETS}",
    0,
    "at most",
)
_AREA = CheckWords("cable-area", CABLES, "Copper of each core", "mm²", "as stated", DATA_SHEETS)
_CARRIES = CheckWords(
    "cable-carries",
    CABLES,
    "Carries for long where it lies",
    "A",
    "its rating at 30 °C times the root of (conductor − ambient) by (conductor − 30)",
    "IEC 60364-5-52 for the derating; the catalog for the rating",
)
_CABLE_CURRENT = CheckWords(
    "cable-current",
    CABLES,
    "Continuous current against that",
    "A",
    "what the set is sized for",
    f"{PRACTICE}, for sizing by the continuous current",
    0,
    "at most",
)
_CABLE_VOLTAGE = CheckWords(
    "cable-voltage",
    CABLES,
    "Full battery against the rating",
    "V",
    "without a load",
    DATA_SHEETS,
    0,
    "at most",
)
_DROP = CheckWords(
    "cable-drop",
    CABLES,
    "Drop there and back, at that current",
    "V",
    "current times the resistance of the copper, as hot as it may get",
    f"IEC 60028 for copper; {PRACTICE}, for {GREATEST_DROP_PERCENT:g} % of the empty battery",
    2,
    "at most",
)
_LOSS = CheckWords(
    "cable-loss",
    CABLES,
    "Lost as heat along them, at that current",
    "W",
    "drop times current",
    FIRST_PRINCIPLES,
)


def current_checks(fitted: ElectricalSet) -> Iterator[ElectricalCheck]:
    """Tell power and currents, continuous and at the peak."""
    for draw in ("continuous", "peak"):
        yield _power(fitted, draw)
        for moment, moment_words in MOMENT_WORDS.items():
            load = fitted.held_load(draw, moment)
            label = f"{draw.capitalize()}, {moment_words}"
            yield replace(_CURRENT, id=f"{draw}-{moment}", label=label).told(
                None if load is None else load.current_a, "a battery and a motor"
            )
    yield _DESIGN.told(fitted.design_current_a, A_DRIVE)
    yield from _in_frost(fitted)


def _in_frost(fitted: ElectricalSet) -> Iterator[ElectricalCheck]:
    ratings_a = fitted.rated_currents_a()
    if fitted.design_current_a is None or not ratings_a:
        return
    load = fitted.load("continuous", "cold")
    yield _FROST.against(None if load is None else load.current_a, min(ratings_a.values()), A_DRIVE)


def _power(fitted: ElectricalSet, draw: Draw) -> ElectricalCheck:
    power_w, pack = fitted.power_w(draw), fitted.pack
    words = replace(_POWER, id=f"{draw}-power", label=f"{draw.capitalize()} {_POWER.label}")
    power_kw = None if power_w is None else power_w / 1000
    if pack is None:
        return words.told(power_kw, "a motor")
    bound_kw, how_long = (
        (pack.continuous_discharge_kw, "for long")
        if draw == "continuous"
        else (pack.peak_discharge_kw, "for seconds")
    )
    if bound_kw is None:
        return words.told(power_kw, "a motor")
    bounded = replace(words, bound_is="at most", source=f"{FIRST_PRINCIPLES}; {DATA_SHEETS}")
    return bounded.also(
        f"; beyond what the battery gives {how_long}, the inverter must be set to less"
    ).against(power_kw, bound_kw, "a motor")


def cable_checks(fitted: ElectricalSet, room: RoomAskedFor) -> Iterator[ElectricalCheck]:
    """Hold the cables against current, voltage and drop."""
    cable, carries_a = fitted.cable, fitted.derated_cable_a()
    if cable is None:
        yield _CABLE_CURRENT.against(None, None, "the cables that are fitted")
        return
    yield _AREA.told(cable.area_mm2)
    warmth = "how warm it gets around the cables"
    yield _CARRIES.also(_derating(cable, fitted.vehicle.cable_ambient_c)).told(carries_a, warmth)
    extra_a = room("cable_margin_a")
    yield _CABLE_CURRENT.also(asked_for(extra_a, "A")).against(
        fitted.design_current_a,
        None if carries_a is None else carries_a - extra_a,
        warmth if carries_a is None else A_DRIVE,
    )
    extra_v = room("rated_voltage_margin_v")
    yield _CABLE_VOLTAGE.also(asked_for(extra_v, "V")).against(
        fitted.full_v, cable.rated_voltage_v - extra_v, "a battery"
    )
    yield from _drop(fitted, cable)


def _derating(cable: TractionCable, ambient_c: float | None) -> str:
    if ambient_c is None:
        return ""
    return (
        f": {cable.rated_current_a.value:g} A × √(({cable.max_conductor_c:g} − {ambient_c:g}) / "
        f"({cable.max_conductor_c:g} − 30))"
    )


def _drop(fitted: ElectricalSet, cable: TractionCable) -> Iterator[ElectricalCheck]:
    run_m, current_a, pack = fitted.vehicle.cable_run_m, fitted.design_current_a, fitted.pack
    drop_v, lost_w, run = None, None, ""
    if run_m is not None and current_a is not None:
        drop_v = current_a * cable_resistance_ohm(
            length_m=2 * run_m, area_mm2=cable.area_mm2, conductor_c=cable.max_conductor_c
        )
        lost_w = drop_v * current_a
        run = f"; twice {run_m:g} m"
    missing = "the length of the cables" if run_m is None else A_DRIVE
    bound_v = None if pack is None else pack.empty_voltage_v * GREATEST_DROP_PERCENT / 100
    yield _DROP.also(run).against(drop_v, bound_v, missing)
    yield _LOSS.told(lost_w, missing)
