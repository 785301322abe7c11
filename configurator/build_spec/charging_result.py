"""What is told of charging from one source."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from configurator.catalog.models.data import Data
from configurator.physics.charging_limits import LimitedBy


class ChargingCost(Data):
    """What a charge costs by one tariff [GBP with VAT]."""

    tariff_label: str
    pence_per_kwh: Decimal
    cost_gbp: Decimal


class ChargingLine(Data):
    """Charging time [h] from one source; all from `power_kw` on belongs to complete builds."""

    source_id: str
    label: str
    supply: Literal["ac", "dc"]
    from_percent: float
    to_percent: float
    low_hours: float
    high_hours: float
    pilot_duty_percent: float | None
    """The duty cycle a correct control pilot shows for this source, for the test sheet."""
    voltage_v: float | None = None
    current_a: float | None = None
    phases: Literal[0, 1, 3] | None = None
    """What the source offers; 0 phases for direct current."""
    cable_current_a: float | None = None
    """What the cable counted with carries; none where it is fixed to the unit."""
    power_kw: float | None = None
    """Into the half full, warm battery, before the taper."""
    limited_by: LimitedBy | None = None
    phases_used: Literal[1, 3] | None = None
    """Of the source's phases, those that the charger takes current from."""
    taper_from_percent: float | None = None
    """Charge from which the power falls."""
    cold_c: float | None = None
    """Of the cells on a cold morning."""
    cold_hours: float | None = None
    """With the battery as cold as that all the time; none where it must be warmed first."""
    cold_limited_by: LimitedBy | None = None
    km_per_hour_low: float | None = None
    km_per_hour_high: float | None = None
    """Range gained in an hour of charging, over the whole time; band of the first headline case."""
    km_case: str = ""
    """That case's label."""
    mains_kwh: float | None = None
    """What the meter counts, with the losses of charger and battery."""
    costs: tuple[ChargingCost, ...] = ()
    socket_label: str = ""
    """The letter of EN 17186 beside the vehicle's inlet."""
