"""Components with the data that the computation reads: packs, motors, tyres and so on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, model_validator

from configurator.catalog.guesses import Construction, guess_motor, guess_pack, guess_tyre
from configurator.catalog.models.data import Label, UncertainValue
from configurator.catalog.models.main_circuit import (
    MainContactor,
    MainFuse,
    PreCharge,
    TractionCable,
)
from configurator.catalog.models.part import Part
from configurator.catalog.plausible import value_within, within

Slot = Literal[
    "pack",
    "motor",
    "reduction",
    "charger",
    "dc_inlet",
    "heater",
    "converter",
    "traction_cable",
    "main_fuse",
    "main_contactor",
    "pre_charge",
    "tyre",
    "wheel",
]
"""A place in the drive or running gear that holds at most one component of that kind."""


class Pack(Part):
    """A traction battery made of modules in series and parallel."""

    kind: Literal["pack"]
    series: int = Field(gt=0, le=400)
    parallel: int = Field(gt=0, le=100)
    module_label: Label
    modules_are: Literal["new", "used"]
    chemistry: Literal["NMC", "LFP"]
    capacity_kwh: Annotated[float, within("capacity_kwh")]
    usable_percent: Annotated[float, within("usable_percent")]
    capacity_sigma_percent: Annotated[float, within("capacity_sigma_percent")]
    capacity_percent_at: dict[int, Annotated[float, Field(gt=20, le=110)]] = {}
    """Cell temperature [°C] → capacity by that at 20 °C [%]; that of its chemistry when empty."""
    aged_capacity_percent: Annotated[float, within("aged_capacity_percent")]
    """Capacity left at the age that the workshop counts with [% of new]."""
    aged_capacity_sigma_percent: float = Field(ge=0, le=20, default=5)
    aged_resistance_percent: Annotated[float, within("aged_resistance_percent")] = 140
    """Resistance at that age [% of new]."""
    nominal_voltage_v: Annotated[float, within("nominal_voltage_v")]
    full_voltage_v: Annotated[float, within("full_voltage_v")]
    empty_voltage_v: Annotated[float, within("empty_voltage_v")]
    resistance_ohm: Annotated[float, within("resistance_ohm")]
    resistance_percent_at: dict[int, Annotated[float, Field(ge=50, le=1000)]] = {}
    """As `capacity_percent_at`, of the resistance."""
    peak_discharge_kw: Annotated[float, within("peak_discharge_kw")]
    continuous_discharge_kw: Annotated[float, within("continuous_discharge_kw")] | None = None
    """What it gives for as long as its charge lasts; half of its peak when absent."""
    peak_charge_kw: Annotated[float, within("peak_charge_kw")]
    charge_percent_at: dict[int, Annotated[float, Field(ge=0, le=100)]] = {}
    """Cell temperature [°C] → power that it may be charged with by `peak_charge_kw` [%], 0 where it
    must not be charged at all; that of its chemistry when empty."""
    ac_taper_from_percent: float | None = Field(default=None, gt=0, le=100)
    dc_taper_from_percent: float | None = Field(default=None, gt=0, le=100)
    """Charge from which the power falls; that of common practice when absent."""
    module_series: int | None = Field(default=None, gt=0, le=400)
    module_parallel: int | None = Field(default=None, gt=0, le=100)
    """Cells in series and in parallel inside one module, for the count of modules."""
    guessed: dict[str, Label] = {}
    """Field that was left out → what its value was guessed from."""

    @model_validator(mode="before")
    @classmethod
    def _guess(cls, written: object) -> object:
        return guess_pack(written) if isinstance(written, Mapping) else written


class Motor(Part):
    """A motor with its inverter."""

    kind: Literal["motor"]
    peak_power_kw: Annotated[float, within("peak_power_kw")]
    continuous_power_kw: Annotated[float, within("continuous_power_kw")]
    peak_torque_nm: Annotated[float, within("peak_torque_nm")]
    peak_seconds: float | None = Field(default=None, gt=1, le=3600)
    """How long it bears its peak power when warm from its continuous power."""
    max_speed_rpm: Annotated[float, within("max_speed_rpm")]
    min_voltage_v: float = Field(gt=10, lt=1000)
    max_voltage_v: float = Field(gt=10, lt=1000)
    efficiency: Annotated[UncertainValue, value_within("motor.efficiency")]
    """In proportion to the power, beside the loss without load; where `efficiency_by_load` is
    given, its uncertainty alone is read."""
    efficiency_by_load: dict[
        Annotated[float, Field(gt=0, le=1)], Annotated[float, Field(gt=0.2, lt=1)]
    ] = {}
    """Share of the peak power → efficiency of motor and inverter, all losses in it; three loads or
    more, low ones among them."""
    recovery_efficiency: Annotated[UncertainValue, value_within("recovery_efficiency")]
    no_load_loss_w: Annotated[float, within("no_load_loss_w")]
    no_load_loss_sigma_percent: Annotated[float, within("no_load_loss_sigma_percent")] = 30
    link_capacitance_uf: float | None = Field(default=None, ge=1, lt=20_000)
    """Of the inverter on its direct-voltage side [µF]."""
    bleed_ohm: float | None = Field(default=None, ge=10, lt=10_000_000)
    """The resistor across that capacitor, which empties it when it is switched off."""
    guessed: dict[str, Label] = {}
    """Field that was left out → what its value was guessed from."""

    @model_validator(mode="before")
    @classmethod
    def _guess(cls, written: object) -> object:
        return guess_motor(written) if isinstance(written, Mapping) else written


class Reduction(Part):
    """A reduction gear with final drive; overall ratios from motor to wheel."""

    kind: Literal["reduction"]
    overall_ratios: tuple[Annotated[float, Field(gt=0.5, lt=40)], ...] = Field(min_length=1)
    efficiency: Annotated[UncertainValue, value_within("reduction.efficiency")]


class Charger(Part):
    """An on-board AC charger."""

    kind: Literal["charger"]
    ac_power_kw: Annotated[float, within("ac_power_kw")]
    phases: Literal[1, 3]
    max_current_a: float = Field(gt=1, lt=100)
    inlet_current_a: float | None = Field(default=None, gt=1, lt=100)
    """What the vehicle's inlet for alternating current carries in each phase."""
    efficiency: Annotated[float, within("charger.efficiency")]
    min_voltage_v: float = Field(gt=10, lt=1000)
    max_voltage_v: float = Field(gt=10, lt=1000)
    socket_label: Label
    """The label of EN 17186 that vehicle and socket carry."""


class DcInlet(Part):
    """A DC charging inlet with its control unit."""

    kind: Literal["dc_inlet"]
    max_power_kw: Annotated[float, within("dc_inlet.max_power_kw")]
    max_current_a: float = Field(gt=1, lt=1000)
    min_voltage_v: float | None = Field(default=None, gt=10, lt=1500)
    max_voltage_v: float | None = Field(default=None, gt=10, lt=1500)
    """The window of direct voltage within which inlet and control unit can charge."""
    socket_label: Label


class Heater(Part):
    """A cabin heater; heat given per electricity taken by outside temperature."""

    kind: Literal["heater"]
    works_by: Literal["resistive", "heat-pump"]
    max_heat_kw: Annotated[float, within("max_heat_kw")]
    coefficient_of_performance: dict[
        int, Annotated[float, within("coefficient_of_performance")]
    ] = Field(min_length=1)
    """Outside temperature [°C] → heat out per electricity in; linear in between, flat outside."""
    max_cooling_kw: float = Field(ge=0, le=20, default=0)
    """0 for a heater that does not cool."""
    cooling_coefficient: dict[int, Annotated[float, within("cooling_coefficient")]] = {}
    """Outside temperature [°C] → heat taken out per electricity in."""


class Converter(Part):
    """The converter that feeds the 12 V circuits from the pack."""

    kind: Literal["converter"]
    rating_w: float = Field(gt=50, lt=10000)
    efficiency: Annotated[float, within("converter.efficiency")]


class Tyre(Part):
    """A tyre, by its size, load index and speed symbol."""

    kind: Literal["tyre"]
    size: Label
    load_index: int = Field(ge=70, le=121)
    speed_symbol: Literal["L", "M", "N", "P", "Q", "R", "S", "T", "U", "H", "V", "W", "Y"]
    rolling_radius_m: Annotated[float, within("rolling_radius_m")]
    rolling_resistance: Annotated[UncertainValue, value_within("rolling_resistance")]
    rolling_growth_percent: Annotated[float, within("rolling_growth_percent")] = 0
    """By how much it grows up to 100 km/h, with the square of the speed, where known."""
    front_pressure_bar: Annotated[float, within("front_pressure_bar")]
    rear_pressure_bar: Annotated[float, within("rear_pressure_bar")]
    construction: Construction | None = None
    """What the rolling resistance is guessed from where it is left out."""
    guessed: dict[str, Label] = {}
    """Field that was left out → what its value was guessed from."""

    @model_validator(mode="before")
    @classmethod
    def _guess(cls, written: object) -> object:
        return guess_tyre(written) if isinstance(written, Mapping) else written


class Wheel(Part):
    """A wheel, by the load it may carry."""

    kind: Literal["wheel"]
    rating_kg: Annotated[float, within("rating_kg")]


Component = Annotated[
    Pack
    | Motor
    | Reduction
    | Charger
    | DcInlet
    | Heater
    | Converter
    | TractionCable
    | MainFuse
    | MainContactor
    | PreCharge
    | Tyre
    | Wheel,
    Field(discriminator="kind"),
]
