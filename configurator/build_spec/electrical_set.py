"""What the parts of the electrical set carry and bear, computed from what is fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from configurator.build_spec.drive_state import Parts
from configurator.catalog.models.component import (
    Converter,
    Heater,
    MainContactor,
    MainFuse,
    Motor,
    Pack,
    PreCharge,
    TractionCable,
)
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.electrical_currents import BatteryLoad, battery_load, terminal_power_w
from configurator.physics.electrical_link import bleed_seconds, pre_charge_seconds
from configurator.physics.electrical_sizing import derated_current_a

Moment = Literal["full", "nominal", "empty", "cold"]
Draw = Literal["continuous", "peak"]

COLD_C = -10.0
COLD_RESISTANCE = 2.5
"""A battery at ten degrees of frost against one at 20 °C; common practice, no source: cells of both
chemistries lie from two to four times."""

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

    def converter_w(self) -> float:
        """Tell what the 12 V side takes from the battery at most [W]."""
        converter = self.parts.get("converter", Converter)
        if converter is None:
            return self.vehicle.auxiliary_power_w.value
        return converter.rating_w / converter.efficiency

    def heater_w(self) -> float:
        """Tell what the cabin heater takes from the battery at most [W]."""
        heater = self.parts.get("heater", Heater)
        if heater is None:
            return 0.0
        return heater.max_heat_kw * _W_PER_KW / min(heater.coefficient_of_performance.values())

    def power_w(self, draw: Draw) -> float | None:
        """Tell the power at the battery's terminals with everything running [W]."""
        motor = self.motor
        if motor is None:
            return None
        shaft_kw = motor.continuous_power_kw if draw == "continuous" else motor.peak_power_kw
        return terminal_power_w(
            mechanical_w=shaft_kw * _W_PER_KW,
            efficiency=motor.efficiency.value,
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

    def design_current_a(self) -> float | None:
        """Tell the continuous current that the set is sized for: with the battery empty [A]."""
        load = self.load("continuous", "empty")
        return None if load is None else load.current_a

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


def battery_at(pack: Pack, moment: Moment) -> tuple[float, float]:
    """Tell voltage [V] and resistance [Ω] of a resting battery; cold means cold and empty."""
    voltages = {"full": pack.full_voltage_v, "nominal": pack.nominal_voltage_v}
    grown = COLD_RESISTANCE if moment == "cold" else 1.0
    return voltages.get(moment, pack.empty_voltage_v), pack.resistance_ohm * grown
