"""Checks of the battery's cells, and of its voltage against all that is joined to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from configurator.build_spec.electrical_check import (
    DATA_SHEETS,
    FIRST_PRINCIPLES,
    BoundIs,
    CheckWords,
    ElectricalCheck,
    RoomAskedFor,
    asked_for,
)
from configurator.build_spec.electrical_set import COLD_C, ElectricalSet, Moment
from configurator.catalog.models.component import Charger, DcInlet, Pack

BATTERY = "Battery"
WINDOWS = "Voltage windows"

CELL_WINDOW_V = {"NMC": (2.75, 4.20), "LFP": (2.50, 3.65)}
"""Least and greatest voltage that cells of a chemistry usually bear [V]; from memory. The cell
maker's data sheet decides."""

_CELL_SOURCE = "from memory; the cell maker's data sheet decides"
_FROST = f"{COLD_C:g} °C".replace("-", "\N{MINUS SIGN}")


def battery_checks(fitted: ElectricalSet) -> Iterator[ElectricalCheck]:
    """Tell the cells and modules, their voltages and those of the whole battery."""
    pack = fitted.pack
    if pack is None:
        missing = "a battery"
        yield CheckWords("battery", BATTERY, "Drive battery", "", "", DATA_SHEETS).told(
            None, missing
        )
        return

    def words(name: str, label: str, unit: str, formula: str, decimals: int = 0) -> CheckWords:
        return CheckWords(name, BATTERY, label, unit, formula, DATA_SHEETS, decimals)

    yield words("series", "Cells in series", "", "as stated").told(pack.series)
    yield words("parallel", "Cells in parallel", "", "as stated").told(pack.parallel)
    yield words(
        "modules",
        "Modules",
        "",
        "cells in series by those in series in a module, times the same for parallel",
    ).told(module_count(pack), "cells in series and in parallel inside one module")
    least_v, greatest_v = CELL_WINDOW_V[pack.chemistry]
    yield _cell_words("full", "at most").against(
        round(pack.full_voltage_v / pack.series, 6), greatest_v
    )
    yield _cell_words("empty", "at least").against(
        round(pack.empty_voltage_v / pack.series, 6), least_v
    )
    for name, value in (
        ("full", pack.full_voltage_v),
        ("nominal", pack.nominal_voltage_v),
        ("empty", pack.empty_voltage_v),
    ):
        yield words(f"pack-{name}", f"Battery {name}", "V", "without a load", 1).told(value)
    cold = fitted.held_load("continuous", "cold")
    yield CheckWords(
        "pack-cold",
        BATTERY,
        f"Battery empty at {_FROST} under the continuous load",
        "V",
        "voltage without a load, which frost hardly moves, less current times the resistance that "
        "frost has grown; never below what the inverter works at, where it holds back",
        FIRST_PRINCIPLES,
        1,
    ).told(None if cold is None else cold.voltage_v, "a motor")


def module_count(pack: Pack) -> float | None:
    """Count the modules of a battery; None where nobody stated what is in one."""
    if pack.module_series is None or pack.module_parallel is None:
        return None
    return pack.series / pack.module_series * pack.parallel / pack.module_parallel


def _cell_words(name: str, bound_is: BoundIs) -> CheckWords:
    return CheckWords(
        f"cell-{name}",
        BATTERY,
        f"Each cell, battery {name}",
        "V",
        f"voltage of the {name} battery by the cells in series",
        _CELL_SOURCE,
        2,
        bound_is,
    )


def window_checks(fitted: ElectricalSet, room: RoomAskedFor) -> Iterator[ElectricalCheck]:
    """Hold the battery's voltage against the windows of inverter, charger and DC inlet."""
    pack = fitted.pack
    if pack is None:
        return
    motor = fitted.motor
    user = _User(
        "inverter",
        None if motor is None else motor.min_voltage_v,
        None if motor is None else motor.max_voltage_v,
        room("pack_voltage_under_v"),
        room("pack_voltage_over_v"),
    )
    yield from _window(pack, user)
    yield _sagging(fitted, "empty", "Battery empty, under the continuous load")
    yield _sagging(fitted, "aged", "The same with the battery aged")
    yield _sagging(fitted, "cold", f"The same with a new battery at {_FROST}")
    charger, inlet = fitted.parts.get("charger", Charger), fitted.parts.get("dc_inlet", DcInlet)
    if charger is not None:
        under_v, over_v = room("charger_voltage_under_v"), room("charger_voltage_over_v")
        window = (charger.min_voltage_v, charger.max_voltage_v, under_v, over_v)
        yield from _window(pack, _User("charger", *window))
    if inlet is not None:
        under_v, over_v = room("dc_inlet_voltage_under_v"), room("dc_inlet_voltage_over_v")
        window_dc = (inlet.min_voltage_v, inlet.max_voltage_v, under_v, over_v)
        yield from _window(pack, _User("DC inlet", *window_dc))


class _User(NamedTuple):
    """What is joined to the battery, with its window and what the catalog's limits add to it."""

    label: str
    least_v: float | None
    greatest_v: float | None
    under_v: float
    over_v: float


def _window(pack: Pack, user: _User) -> Iterator[ElectricalCheck]:
    name = user.label.lower().replace(" ", "-")
    words = CheckWords(
        f"full-{name}",
        WINDOWS,
        f"Battery full, {user.label}",
        "V",
        "without a load",
        DATA_SHEETS,
        1,
        "at most",
    )
    yield words.also(asked_for(-user.over_v, "V")).against(
        pack.full_voltage_v,
        None if user.greatest_v is None else user.greatest_v + user.over_v,
        f"the greatest voltage of the {user.label}",
    )
    lower = replace(
        words, id=f"empty-{name}", label=f"Battery empty, {user.label}", bound_is="at least"
    )
    yield lower.also(asked_for(-user.under_v, "V")).against(
        pack.empty_voltage_v,
        None if user.least_v is None else user.least_v - user.under_v,
        f"the least voltage of the {user.label}",
    )


def _sagging(fitted: ElectricalSet, moment: Moment, label: str) -> ElectricalCheck:
    load, motor = fitted.load("continuous", moment), fitted.motor
    sagged_v = None if load is None else load.voltage_v if load.is_enough else 0.0
    return CheckWords(
        f"sag-{moment}",
        WINDOWS,
        f"{label}, inverter",
        "V",
        "voltage without a load less current times resistance, 0 where no current gives the power; "
        "below the bound the inverter holds back and the vehicle grows weak before the battery is "
        "empty",
        FIRST_PRINCIPLES,
        1,
        "at least",
    ).against(
        sagged_v,
        None if motor is None else motor.min_voltage_v,
        "a motor",
    )
