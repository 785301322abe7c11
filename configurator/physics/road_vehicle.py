"""What the energy model knows of a vehicle and of a trip."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

ROTATING_MASS_FACTOR = 1.03
"""Mass to accelerate by mass to carry. Source: UN GTR No. 15, annex 4: rotating parts may be taken
as 3 % of the mass. A small motor geared for high speed may bring it to 1.05."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoadVehicle:
    """Inputs of the energy model, each uncertain one with its standard deviation.

    Powers flow: cells → battery resistance → terminals → drive → wheels. Auxiliaries and cabin
    heating hang on the terminals.
    """

    mass_kg: float
    """With everybody and everything in it [kg], > 0."""
    drag_area_m2: float
    """Drag coefficient times frontal area [m²], > 0."""
    rolling_resistance: float
    """By weight at low speed, >= 0."""
    rolling_growth: float = 0.0
    """How much of itself it gains up to 100 km/h, with the square of the speed, >= 0."""
    drive_efficiency: float
    """Motor with inverter times reduction, from terminals to wheels, > 0, at most 1."""
    no_load_loss_w: float
    """Loss of the turning drive whatever it gives, counted while moving [W], >= 0."""
    load_loss_per_w: float = 0.0
    """Loss by the square of the power at the wheels, driving or braking [1/W], >= 0."""
    recovery_efficiency: float
    """From the driven wheels to the terminals while braking, 0 to 1."""
    recovery_share: float
    """Share of the braking that the drive does; the friction brakes do the rest, 0 to 1."""
    recovery_grip: float = 1.0
    """Greatest braking force of the driven axle by the vehicle's weight, >= 0."""
    recovery_full_from_m_s: float = 0.0
    """Speed from which the drive does its whole share; below, less in proportion [m/s], >= 0."""
    auxiliary_power_w: float
    """Taken by the 12 V circuits [W], >= 0."""
    converter_efficiency: float
    """Of the converter that feeds the 12 V circuits, > 0, at most 1."""
    cabin_heat_loss_w_per_k: float
    """Heat the cabin loses for each kelvin above the outside [W/K], >= 0."""
    cabin_heat_capacity_j_per_k: float = 0.0
    """Heat that warms the cold cabin by a kelvin after each start [J/K], >= 0."""
    cabin_gain_w: float = 0.0
    """Warmth of people, sun and instruments in the cabin [W], >= 0."""
    heater_max_heat_w: float
    """Greatest heat of the heater [W], >= 0."""
    heater_cop: tuple[tuple[float, float], ...]
    """(outside temperature [°C], heat out per electricity in), rising in temperature; linear in
    between, flat outside; empty for no heater."""
    cooler_max_heat_w: float = 0.0
    """Greatest heat the cooling takes out of the cabin [W], >= 0; 0 for none."""
    cooler_cop: tuple[tuple[float, float], ...] = ()
    """As `heater_cop`, of the cooling."""
    usable_energy_wh: float
    """Energy the cells give from full to empty [Wh], > 0."""
    resistance_ohm: float
    """Resistance of the pack [ohm], >= 0."""
    nominal_voltage_v: float
    """Open-circuit voltage the losses are counted at [V], > 0."""
    peak_power_w: float
    """Greatest power of the drive at the wheels, driving or braking [W], > 0: the least of what
    the motor and the pack can give, after the losses in between."""
    rotating_mass_factor: float = ROTATING_MASS_FACTOR
    """Mass to accelerate by mass to carry, > 0."""
    mass_sigma_kg: float
    """Standard deviation of the mass [kg], >= 0."""
    drag_area_sigma_percent: float
    """Standard deviation [% of the value], >= 0; so are all below."""
    rolling_resistance_sigma_percent: float
    drive_efficiency_sigma_percent: float
    auxiliary_power_sigma_percent: float
    cabin_heat_loss_sigma_percent: float
    usable_energy_sigma_percent: float
    recovery_efficiency_sigma_percent: float = 0.0
    no_load_loss_sigma_percent: float = 0.0
    consumption_factor: float = 1.0
    """What measured trips took by what was computed, > 0; 1 where none was measured."""
    doubt_left: float = 1.0
    """Share of the doubt about the consumption that measured trips leave, >= 0."""
    drag_rolling_correlation: float = 0.0
    """Between the errors of drag area and rolling resistance, -1 to 1; a coast-down test cannot
    tell them quite apart."""


@dataclass(frozen=True, kw_only=True)
class Leg:
    """A part of a trip: a speed trace or a steady speed, driven for some distance.

    Give exactly one of `speed_m_s` and `steady_m_s`; a trace is repeated, or broken off, in
    proportion.
    """

    distance_m: float
    """How far it is driven so [m], > 0."""
    speed_m_s: tuple[float, ...] = ()
    """Speed trace, one sample a second [m/s], at least two samples."""
    steady_m_s: float | None = None
    """Steady speed [m/s], > 0."""
    slope_percent: float = 0.0
    """Rise by horizontal distance, all the way [%]."""


@dataclass(frozen=True, kw_only=True)
class Trip:
    """A way of driving: a speed trace, a steady speed or several legs, in some weather.

    Give exactly one of `speed_m_s`, `steady_m_s` and `legs`.
    """

    speed_m_s: tuple[float, ...] = ()
    """Speed trace, one sample a second [m/s], at least two samples."""
    steady_m_s: float | None = None
    """Steady speed [m/s], > 0."""
    legs: tuple[Leg, ...] = ()
    """Legs of one drive; the order does not matter."""
    temperature_c: float
    """Outside [°C], -60 to 60."""
    cabin_c: float = 20.0
    """Wished inside [°C]."""
    altitude_m: float = 0.0
    """Above the sea [m]."""
    slope_percent: float = 0.0
    """Rise by horizontal distance, all the way [%]; legs have their own."""
    seconds_between_starts: float | None = None
    """After how long the cabin is cold again and warmed anew [s], > 0; None for never."""

    def __hash__(self) -> int:
        """Hash once: a trace has some thousand samples, and its arrays are looked up by it."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.speed_m_s, self.steady_m_s or 0.0, self.legs, self.temperature_c))
