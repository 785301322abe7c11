"""What the parts of the electrical set carry and bear, computed from what is fitted."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from configurator.build_spec.drive_state import Parts
from configurator.build_spec.driving_inputs import losses_of
from configurator.catalog.models.component import Converter, DcInlet, Heater, Motor, Pack
from configurator.catalog.models.main_circuit import (
    MainContactor,
    MainFuse,
    PreCharge,
    TractionCable,
)
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.electrical_currents import BatteryLoad, battery_load, terminal_power_w
from configurator.physics.electrical_link import bleed_seconds, pre_charge_seconds
from configurator.physics.electrical_sizing import derated_current_a
from configurator.physics.pack_condition import pack_condition

Moment = Literal["full", "nominal", "empty", "aged", "cold"]
"""How the battery is; `aged` is empty at the age that the workshop counts with, `cold` is empty and
new in frost."""

Draw = Literal["continuous", "peak"]

COLD_C = -10.0
"""Of the cells on a frosty morning [°C]; common practice, no source."""

_W_PER_KW = 1000.0
_F_PER_UF = 1e-6


@dataclass(frozen=True)
class ElectricalSet:
    """The fitted parts in their vehicle; a value is None where a part or a figure is missing."""

    vehicle: Vehicle
    parts: Parts

    @property
    def pack(self) -> Pack | None:
        """The battery."""
        return self.parts.get("pack", Pack)

    @property
    def motor(self) -> Motor | None:
        """Motor and inverter."""
        return self.parts.get("motor", Motor)

    @property
    def cable(self) -> TractionCable | None:
        """The pair of cables between battery and inverter."""
        return self.parts.get("traction_cable", TractionCable)

    @property
    def fuse(self) -> MainFuse | None:
        """The main fuse."""
        return self.parts.get("main_fuse", MainFuse)

    @property
    def contactor(self) -> MainContactor | None:
        """Each of the main contactors."""
        return self.parts.get("main_contactor", MainContactor)

    @property
    def pre_charge(self) -> PreCharge | None:
        """The resistor of the pre-charge."""
        return self.parts.get("pre_charge", PreCharge)

    @property
    def full_v(self) -> float | None:
        """Voltage of the full battery [V]."""
        return None if self.pack is None else self.pack.full_voltage_v

    def converter_w(self) -> float:
        """Tell what the 12 V side takes from the battery at most [W]."""
        converter = self.parts.get("converter", Converter)
        if converter is None:
            return self.vehicle.auxiliary_power_w.value
        return converter.rating_w / converter.efficiency

    def heater_w(self) -> float:
        """Tell what the cabin heater takes from the battery at most, warming or cooling [W]."""
        heater = self.parts.get("heater", Heater)
        if heater is None:
            return 0.0
        warming_kw = heater.max_heat_kw / min(heater.coefficient_of_performance.values())
        cools = heater.max_cooling_kw > 0 and bool(heater.cooling_coefficient)
        cooling_kw = (
            heater.max_cooling_kw / min(heater.cooling_coefficient.values()) if cools else 0.0
        )
        return max(warming_kw, cooling_kw) * _W_PER_KW

    def power_w(self, draw: Draw) -> float | None:
        """Tell the power at the battery's terminals with everything running [W]."""
        motor = self.motor
        if motor is None:
            return None
        shaft_kw = motor.continuous_power_kw if draw == "continuous" else motor.peak_power_kw
        losses = losses_of(motor)
        return terminal_power_w(
            mechanical_w=shaft_kw * _W_PER_KW,
            efficiency=losses.efficiency,
            no_load_w=losses.no_load_w,
            per_w=losses.per_w,
            auxiliary_w=self.converter_w() + self.heater_w(),
        )

    def load(self, draw: Draw, moment: Moment) -> BatteryLoad | None:
        """Solve the battery's load; at the peak no more than the battery allows for seconds."""
        pack, power_w = self.pack, self.power_w(draw)
        if pack is None or power_w is None:
            return None
        if draw == "peak":
            power_w = min(power_w, pack.peak_discharge_kw * _W_PER_KW)
        voltage_v, resistance_ohm = battery_at(pack, moment)
        return battery_load(
            power_w=power_w, open_voltage_v=voltage_v, resistance_ohm=resistance_ohm
        )

    def held_load(self, draw: Draw, moment: Moment) -> BatteryLoad | None:
        """Solve the load where the inverter holds the battery at its own least voltage or above."""
        pack, motor, load = self.pack, self.motor, self.load(draw, moment)
        if pack is None or motor is None or load is None:
            return None
        if load.is_enough and load.voltage_v >= motor.min_voltage_v:
            return load
        voltage_v, resistance_ohm = battery_at(pack, moment)
        held_v = min(motor.min_voltage_v, voltage_v)
        current_a = (voltage_v - held_v) / resistance_ohm
        return BatteryLoad(current_a, held_v, held_v * current_a, is_enough=False)

    @cached_property
    def design_current_a(self) -> float | None:
        """The continuous current that the set is sized for [A].

        With the battery empty and aged, everything running, and without counting on the inverter to
        hold back: a setting protects no cable. None too where battery and inverter do not go
        together by their voltages, since then nothing is ever driven.
        """
        pack, motor, load = self.pack, self.motor, self.load("continuous", "aged")
        if pack is None or motor is None or load is None:
            return None
        goes = motor.min_voltage_v <= pack.empty_voltage_v < pack.full_voltage_v
        return load.current_a if goes and pack.full_voltage_v <= motor.max_voltage_v else None

    def rated_currents_a(self) -> dict[str, float]:
        """Name the current that each part carries for long by its rating [A], of those fitted."""
        cable, parts = self.cable, {"fuse": self.fuse, "contactor": self.contactor}
        rated = {name: part.rated_current_a for name, part in parts.items() if part is not None}
        return rated if cable is None else {"cable": cable.rated_current_a.value, **rated}

    def dc_charging_a(self) -> float | None:
        """Tell the greatest current while charging from direct voltage [A]."""
        pack, inlet = self.pack, self.parts.get("dc_inlet", DcInlet)
        if pack is None or inlet is None:
            return None
        charge_w = min(pack.peak_charge_kw, inlet.max_power_kw) * _W_PER_KW
        return min(inlet.max_current_a, charge_w / pack.empty_voltage_v)

    def derated_cable_a(self) -> float | None:
        """Tell what the cable carries where it lies [A]."""
        cable, ambient_c = self.cable, self.vehicle.cable_ambient_c
        if cable is None or ambient_c is None:
            return None
        return derated_current_a(
            rated_a=cable.rated_current_a.value,
            max_conductor_c=cable.max_conductor_c,
            ambient_c=ambient_c,
        )

    def link_f(self) -> float | None:
        """Tell the capacitance on the inverter's side of the contactors [F]."""
        motor = self.motor
        if motor is None or motor.link_capacitance_uf is None:
            return None
        return motor.link_capacitance_uf * _F_PER_UF

    def pre_charge_seconds(self) -> float | None:
        """Tell how long the pre-charge takes [s]."""
        capacitance_f, pre_charge = self.link_f(), self.pre_charge
        if capacitance_f is None or pre_charge is None:
            return None
        return pre_charge_seconds(resistor_ohm=pre_charge.resistor_ohm, capacitance_f=capacitance_f)

    def bleed_seconds(self) -> float | None:
        """Tell how long the full battery's voltage stays above 60 V when switched off [s]."""
        pack, motor, capacitance_f = self.pack, self.motor, self.link_f()
        if pack is None or motor is None or motor.bleed_ohm is None or capacitance_f is None:
            return None
        return bleed_seconds(
            bleed_ohm=motor.bleed_ohm, capacitance_f=capacitance_f, voltage_v=pack.full_voltage_v
        )

    def rated_voltages_v(self) -> dict[str, float]:
        """Name the voltage that cable, fuse and contactor bear [V], of those that are fitted."""
        parts = (("cable", self.cable), ("fuse", self.fuse), ("contactor", self.contactor))
        return {name: part.rated_voltage_v for name, part in parts if part is not None}


def least_resistance_ohm(pack: Pack) -> float:
    """Tell the resistance of the new battery at the temperature where it is least [Ω]."""
    return pack.resistance_ohm * min([100.0, *pack.resistance_percent_at.values()]) / 100


def battery_at(pack: Pack, moment: Moment) -> tuple[float, float]:
    """Tell voltage without a load [V] and resistance [Ω] of the battery."""
    voltages = {"full": pack.full_voltage_v, "nominal": pack.nominal_voltage_v}
    percent = 100.0
    if moment == "aged":
        percent = pack.aged_resistance_percent
    elif moment == "cold":
        percent = pack_condition(
            temperature_c=COLD_C,
            capacity_at=pack.capacity_percent_at,
            resistance_at=pack.resistance_percent_at,
            chemistry=pack.chemistry,
        ).resistance_percent
    return voltages.get(moment, pack.empty_voltage_v), pack.resistance_ohm * percent / 100
