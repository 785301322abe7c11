"""Checks of the main fuse and the main contactors, which break the battery's circuit."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.build_spec.electrical_carrying import MOMENT_WORDS
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
from configurator.build_spec.electrical_set import ElectricalSet, least_resistance_ohm
from configurator.physics.electrical_currents import short_circuit_a
from configurator.physics.electrical_sizing import FUSE_SHARE

FUSE = "Main fuse"
CONTACTORS = "Main contactors"

_FUSE_SOURCE = f"{PRACTICE}: rated for 1.25 times the continuous current, no more than the cables"
_FUSE_CURRENT = CheckWords(
    "fuse-current",
    FUSE,
    "Rating against the current",
    "A",
    f"bound: {FUSE_SHARE:g} times what the set is sized for",
    _FUSE_SOURCE,
    0,
    "at least",
)
_FUSE_CABLE = CheckWords(
    "fuse-cable",
    FUSE,
    "Rating against the cables",
    "A",
    "bound: what the cables carry where they lie",
    _FUSE_SOURCE,
    0,
    "at most",
)
_FUSE_DC = CheckWords(
    "fuse-dc-charging",
    FUSE,
    "Rating against charging from direct voltage",
    "A",
    f"bound: {FUSE_SHARE:g} times the greatest charging current, by inlet and battery; where the "
    "inlet joins behind the main fuse",
    f"{PRACTICE}; {DATA_SHEETS}",
    0,
    "at least",
)
_CONTACTOR_DC = CheckWords(
    "contactor-dc-charging",
    CONTACTORS,
    "Charging from direct voltage against the rating",
    "A",
    "the greatest charging current, by inlet and battery; where the inlet joins behind the main "
    "contactors",
    DATA_SHEETS,
    0,
    "at most",
)
_FUSE_VOLTAGE = CheckWords(
    "fuse-voltage",
    FUSE,
    "Full battery against the fuse's rating",
    "V",
    "direct voltage, without a load",
    DATA_SHEETS,
    0,
    "at most",
)
_FUSE_PEAK = CheckWords(
    "fuse-peak",
    FUSE,
    "Greatest peak current, to be held against its curve",
    "A",
    "the greatest of the peak currents above; not checked here: a competent person reads from the "
    "maker's curve how long the fuse bears it, and that it outlasts the peak",
    "the maker's time-current curve, which the catalog does not have",
)
_FUSE_BREAKING = CheckWords(
    "fuse-breaking",
    FUSE,
    "Short circuit against what it breaks",
    "A",
    "voltage of the full battery by its resistance, new and warm; the first instant may lie higher",
    f"{FIRST_PRINCIPLES}; {DATA_SHEETS}",
    0,
    "at most",
)
_CONTACTOR_CURRENT = CheckWords(
    "contactor-current",
    CONTACTORS,
    "Continuous current against the rating",
    "A",
    "what the set is sized for",
    DATA_SHEETS,
    0,
    "at most",
)
_CONTACTOR_PEAK = CheckWords(
    "contactor-peak",
    CONTACTORS,
    "Greatest peak current against half a minute's",
    "A",
    "the greatest of the peak currents above",
    DATA_SHEETS,
    0,
    "at most",
)
_CONTACTOR_VOLTAGE = CheckWords(
    "contactor-voltage",
    CONTACTORS,
    "Full battery against the rating",
    "V",
    "without a load",
    DATA_SHEETS,
    0,
    "at most",
)


def fuse_checks(fitted: ElectricalSet, room: RoomAskedFor) -> Iterator[ElectricalCheck]:
    """Hold the main fuse against current, cable, voltage and short circuit."""
    fuse, current_a, pack = fitted.fuse, fitted.design_current_a, fitted.pack
    if fuse is None:
        yield _FUSE_CURRENT.against(None, None, "the main fuse that is fitted")
        return
    carries_a, extra_a = fitted.derated_cable_a(), room("fuse_margin_a")
    least_a = None if current_a is None else FUSE_SHARE * current_a + extra_a
    yield _FUSE_CURRENT.also(asked_for(extra_a, "A")).against(
        fuse.rated_current_a, least_a, A_DRIVE
    )
    greatest_a = None if carries_a is None else carries_a + room("fuse_over_cable_a")
    yield _FUSE_CABLE.against(
        fuse.rated_current_a, greatest_a, "the cables, and how warm it gets around them"
    )
    if (charging_a := fitted.dc_charging_a()) is not None:
        yield _FUSE_DC.against(fuse.rated_current_a, FUSE_SHARE * charging_a)
    extra_v = room("rated_voltage_margin_v")
    yield _FUSE_VOLTAGE.also(asked_for(extra_v, "V")).against(
        fitted.full_v, fuse.rated_voltage_v - extra_v, "a battery"
    )
    shorted_a = None
    if pack is not None:
        shorted_a = short_circuit_a(
            open_voltage_v=pack.full_voltage_v, resistance_ohm=least_resistance_ohm(pack)
        )
    if (peak_a := _greatest_peak_a(fitted)) is not None:
        yield _FUSE_PEAK.told(peak_a)
    yield _FUSE_BREAKING.against(shorted_a, fuse.breaking_current_a, "a battery")


def _greatest_peak_a(fitted: ElectricalSet) -> float | None:
    peaks = [load.current_a for m in MOMENT_WORDS if (load := fitted.held_load("peak", m))]
    return max(peaks, default=None)


def contactor_checks(fitted: ElectricalSet, room: RoomAskedFor) -> Iterator[ElectricalCheck]:
    """Hold each main contactor against current and voltage."""
    contactor, extra_a = fitted.contactor, room("contactor_margin_a")
    if contactor is None:
        yield _CONTACTOR_CURRENT.against(None, None, "the contactors that are fitted")
        return
    yield _CONTACTOR_CURRENT.also(asked_for(extra_a, "A")).against(
        fitted.design_current_a, contactor.rated_current_a - extra_a, A_DRIVE
    )
    yield _CONTACTOR_PEAK.against(_greatest_peak_a(fitted), contactor.peak_current_a, A_DRIVE)
    if (charging_a := fitted.dc_charging_a()) is not None:
        yield _CONTACTOR_DC.against(charging_a, contactor.rated_current_a)
    extra_v = room("rated_voltage_margin_v")
    yield _CONTACTOR_VOLTAGE.also(asked_for(extra_v, "V")).against(
        fitted.full_v, contactor.rated_voltage_v - extra_v, "a battery"
    )
