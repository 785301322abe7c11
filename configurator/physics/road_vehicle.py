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
    """By weight, >= 0."""
    drive_efficiency: float
    """Motor with inverter times reduction, from terminals to wheels, > 0, at most 1."""
    no_load_loss_w: float
    """Loss of the turning drive whatever it gives, counted while moving [W], >= 0."""
    recovery_efficiency: float
    """From the driven wheels to the terminals while braking, 0 to 1."""
    recovery_share: float
    """Share of the braking that the drive does; the friction brakes do the rest, 0 to 1."""
    auxiliary_power_w: float
    """Taken by the 12 V circuits [W], >= 0."""
    converter_efficiency: float
    """Of the converter that feeds the 12 V circuits, > 0, at most 1."""
    cabin_heat_loss_w_per_k: float
    """Heat the cabin loses for each kelvin above the outside [W/K], >= 0."""
    heater_max_heat_w: float
    """Greatest heat of the heater [W], >= 0."""
    heater_cop: tuple[tuple[float, float], ...]
    """(outside temperature [°C], heat out per electricity in), rising in temperature; linear in
    between, flat outside; empty for no heater."""
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


@dataclass(frozen=True, kw_only=True)
class Trip:
    """A way of driving: a speed trace or a steady speed, in some weather.

    Give exactly one of `speed_m_s` and `steady_m_s`.
    """

    speed_m_s: tuple[float, ...] = ()
    """Speed trace, one sample a second [m/s], at least two samples."""
    steady_m_s: float | None = None
    """Steady speed [m/s], > 0."""
    temperature_c: float
    """Outside [°C], -60 to 60."""
    cabin_c: float = 20.0
    """Wished inside [°C]."""
    altitude_m: float = 0.0
    """Above the sea [m]."""
    slope_percent: float = 0.0
    """Rise by horizontal distance, all the way [%]."""

    def __hash__(self) -> int:
        """Hash once: a trace has some thousand samples, and its arrays are looked up by it."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.speed_m_s, self.steady_m_s or 0.0, self.temperature_c))
