"""Components with the data that the computation reads: packs, motors, tyres and so on."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from configurator.catalog.models.data import (
    Data,
    Identifier,
    Label,
    Sentence,
    Source,
    UncertainValue,
)

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


class _Component(Data):
    id: Identifier
    label: Label
    maker: Label
    note: Sentence | None = None
    source: Sentence | Source


class Pack(_Component):
    """A traction battery made of modules in series and parallel."""

    kind: Literal["pack"]
    series: int = Field(gt=0, le=400)
    parallel: int = Field(gt=0, le=100)
    module_label: Label
    modules_are: Literal["new", "used"]
    chemistry: Literal["NMC", "LFP"]
    capacity_kwh: float = Field(gt=1, lt=200)
    usable_percent: float = Field(gt=30, le=100)
    capacity_sigma_percent: float = Field(ge=0, le=30)
    capacity_percent_at: dict[int, Annotated[float, Field(gt=20, le=110)]] = {}
    """Cell temperature [°C] → capacity by that at 20 °C [%]; that of its chemistry when empty."""
    aged_capacity_percent: float = Field(gt=30, le=100)
    """Capacity left at the age that the workshop counts with [% of new]."""
    aged_capacity_sigma_percent: float = Field(ge=0, le=20, default=5)
    aged_resistance_percent: float = Field(ge=100, le=400, default=140)
    """Resistance at that age [% of new]."""
    nominal_voltage_v: float = Field(gt=20, lt=1000)
    full_voltage_v: float = Field(gt=20, lt=1000)
    empty_voltage_v: float = Field(gt=20, lt=1000)
    resistance_ohm: float = Field(gt=0, lt=5)
    resistance_percent_at: dict[int, Annotated[float, Field(ge=50, le=1000)]] = {}
    """As `capacity_percent_at`, of the resistance."""
    peak_discharge_kw: float = Field(gt=0, lt=600)
    peak_charge_kw: float = Field(gt=0, lt=400)
    module_series: int | None = Field(default=None, gt=0, le=400)
    module_parallel: int | None = Field(default=None, gt=0, le=100)
    """Cells in series and in parallel inside one module, for the count of modules."""


class Motor(_Component):
    """A motor with its inverter."""

    kind: Literal["motor"]
    peak_power_kw: float = Field(gt=1, lt=500)
    continuous_power_kw: float = Field(gt=1, lt=400)
    peak_torque_nm: float = Field(gt=1, lt=2000)
    max_speed_rpm: float = Field(gt=500, lt=30000)
    min_voltage_v: float = Field(gt=10, lt=1000)
    max_voltage_v: float = Field(gt=10, lt=1000)
    efficiency: UncertainValue
    """In proportion to the power, beside the loss without load; where `efficiency_by_load` is
    given, its uncertainty alone is read."""
    efficiency_by_load: dict[
        Annotated[float, Field(gt=0, le=1)], Annotated[float, Field(gt=0.2, lt=1)]
    ] = {}
    """Share of the peak power → efficiency of motor and inverter, all losses in it; three loads or
    more, low ones among them."""
    recovery_efficiency: UncertainValue
    no_load_loss_w: float = Field(ge=0, lt=5000)
    no_load_loss_sigma_percent: float = Field(ge=0, le=60, default=30)
    link_capacitance_uf: float | None = Field(default=None, gt=0, lt=20_000)
    """Of the inverter on its direct-voltage side [µF]."""
    bleed_ohm: float | None = Field(default=None, gt=0, lt=10_000_000)
    """The resistor across that capacitor, which empties it when it is switched off."""


class Reduction(_Component):
    """A reduction gear with final drive; overall ratios from motor to wheel."""

    kind: Literal["reduction"]
    overall_ratios: tuple[Annotated[float, Field(gt=0.5, lt=40)], ...] = Field(min_length=1)
    efficiency: UncertainValue


class Charger(_Component):
    """An on-board AC charger."""

    kind: Literal["charger"]
    ac_power_kw: float = Field(gt=0.5, lt=50)
    phases: Literal[1, 3]
    max_current_a: float = Field(gt=1, lt=100)
    efficiency: float = Field(gt=0.5, lt=1)
    min_voltage_v: float = Field(gt=10, lt=1000)
    max_voltage_v: float = Field(gt=10, lt=1000)
    socket_label: Label
    """The label of EN 17186 that vehicle and socket carry."""


class DcInlet(_Component):
    """A DC charging inlet with its control unit."""

    kind: Literal["dc_inlet"]
    max_power_kw: float = Field(gt=1, lt=400)
    max_current_a: float = Field(gt=1, lt=1000)
    min_voltage_v: float | None = Field(default=None, gt=10, lt=1500)
    max_voltage_v: float | None = Field(default=None, gt=10, lt=1500)
    """The window of direct voltage within which inlet and control unit can charge."""
    socket_label: Label


class Heater(_Component):
    """A cabin heater; heat given per electricity taken by outside temperature."""

    kind: Literal["heater"]
    works_by: Literal["resistive", "heat-pump"]
    max_heat_kw: float = Field(gt=0, lt=20)
    coefficient_of_performance: dict[int, Annotated[float, Field(gt=0.3, lt=8)]] = Field(
        min_length=1
    )
    """Outside temperature [°C] → heat out per electricity in; linear in between, flat outside."""
    max_cooling_kw: float = Field(ge=0, le=20, default=0)
    """0 for a heater that does not cool."""
    cooling_coefficient: dict[int, Annotated[float, Field(gt=0.3, lt=8)]] = {}
    """Outside temperature [°C] → heat taken out per electricity in."""


class Converter(_Component):
    """The converter that feeds the 12 V circuits from the pack."""

    kind: Literal["converter"]
    rating_w: float = Field(gt=50, lt=10000)
    efficiency: float = Field(gt=0.5, lt=1)


class TractionCable(_Component):
    """The pair of copper cables between battery and inverter, one core for each pole."""

    kind: Literal["traction_cable"]
    area_mm2: float = Field(gt=1, lt=400)
    rated_current_a: UncertainValue
    """What each core may carry for long in free air at 30 °C [A]."""
    max_conductor_c: float = Field(gt=40, lt=300)
    rated_voltage_v: float = Field(gt=20, lt=3000)


class MainFuse(_Component):
    """The fuse of the battery's main circuit."""

    kind: Literal["main_fuse"]
    rated_current_a: float = Field(gt=1, lt=2000)
    rated_voltage_v: float = Field(gt=20, lt=3000)
    breaking_current_a: float = Field(gt=100, lt=300_000)
    """The greatest direct current that it can break."""


class MainContactor(_Component):
    """One of the two contactors that join the battery to the drive."""

    kind: Literal["main_contactor"]
    rated_current_a: float = Field(gt=1, lt=2000)
    """What it carries for long."""
    peak_current_a: float = Field(gt=1, lt=6000)
    """What it carries for half a minute."""
    rated_voltage_v: float = Field(gt=20, lt=3000)


class PreCharge(_Component):
    """The resistor, with its relay, that charges the inverter before the contactors close."""

    kind: Literal["pre_charge"]
    resistor_ohm: float = Field(gt=0.1, lt=10_000)
    pulse_energy_j: float = Field(gt=0, lt=100_000)
    """What the resistor bears at once, from cold."""


class Tyre(_Component):
    """A tyre, by its size, load index and speed symbol."""

    kind: Literal["tyre"]
    size: Label
    load_index: int = Field(ge=70, le=121)
    speed_symbol: Literal["L", "M", "N", "P", "Q", "R", "S", "T", "U", "H", "V", "W", "Y"]
    rolling_radius_m: float = Field(gt=0.2, lt=0.6)
    rolling_resistance: UncertainValue
    rolling_growth_percent: float = Field(ge=0, le=100, default=0)
    """By how much it grows up to 100 km/h, with the square of the speed, where known."""
    front_pressure_bar: float = Field(gt=0.8, lt=8)
    rear_pressure_bar: float = Field(gt=0.8, lt=8)


class Wheel(_Component):
    """A wheel, by the load it may carry."""

    kind: Literal["wheel"]
    rating_kg: float = Field(gt=50, lt=3000)


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


class ChargingSource(Data):
    """Somewhere to charge: a domestic socket, a wall unit, a DC unit."""

    id: Identifier
    label: Label
    supply: Literal["ac", "dc"]
    voltage_v: float = Field(gt=50, lt=1000)
    current_a: float = Field(gt=1, lt=1000)
    phases: Literal[0, 1, 3]
    """0 for direct current."""
    max_power_kw: float = Field(gt=0.5, lt=400)
    from_percent: float = Field(ge=0, lt=100)
    to_percent: float = Field(gt=0, le=100)
    source: Sentence | Source
    checked_on: date | None = None
