"""Charging halfway through a day: how much of the day the battery then reaches."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.build_spec.charging_facts import WARM_C, charging_power, taper_from_percent
from configurator.build_spec.day_cold import cells_of
from configurator.build_spec.day_words import degrees
from configurator.build_spec.drive_state import Parts
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import Pack
from configurator.catalog.models.day import CustomersDay


@dataclass(frozen=True)
class Halfway:
    """A chance to charge in the middle of a day; a day is told by its share of a range.

    From full, half the day, some charging, the other half. Charging is counted up to the charge
    from which the power falls, which errs to the safe side.
    """

    charged_share: float
    """Of the usable energy, at most; 0 for no charging."""
    full_enough_share: float
    """Charge up to which charging is counted."""
    reserve_share: float
    """What must be left all the time."""

    @property
    def longest_share(self) -> float:
        """The longest day that keeps the reserve, by the range.

        Examples
        --------
        >>> Halfway(charged_share=0.0, full_enough_share=0.95, reserve_share=0.1).longest_share
        0.9
        >>> Halfway(charged_share=0.3, full_enough_share=0.95, reserve_share=0.1).longest_share
        1.2
        """
        free = 1 - self.reserve_share
        charged = min(free + self.charged_share, 2 * (self.full_enough_share - self.reserve_share))
        return min(max(free, charged), 2 * free)

    def left_on_return(self, day_share: float) -> float:
        """Tell what is left in the evening; below 0 for what is missing.

        Examples
        --------
        >>> Halfway(charged_share=0.5, full_enough_share=1.0, reserve_share=0).left_on_return(0.5)
        0.75
        """
        charged = min(1 - day_share + self.charged_share, self.full_enough_share - day_share / 2)
        return max(1 - day_share, charged)

    def least_left(self, day_share: float) -> float:
        """Tell the emptiest moment of the day: at the halfway point or in the evening."""
        return min(1 - day_share / 2, self.left_on_return(day_share))

    def share_needed(self, day_share: float) -> float | None:
        """Tell how much must be charged for a day; None where no charging helps.

        Examples
        --------
        >>> halfway = Halfway(charged_share=0.0, full_enough_share=0.95, reserve_share=0.0)
        >>> halfway.share_needed(1.25), halfway.share_needed(1.95)
        (0.25, None)
        """
        most = 2 * min(self.full_enough_share - self.reserve_share, 1 - self.reserve_share)
        return None if day_share > most else max(day_share - 1 + self.reserve_share, 0.0)


@dataclass(frozen=True)
class Supply:
    """Where a day charges halfway, with what goes into its battery there."""

    source: ChargingSource | None
    power_kw: float
    """0 where nothing fitted takes it, or the battery is too cold."""
    full_enough_share: float
    """Charge from which the power falls."""
    cell_c: float | None = None
    """Of the cells while it charges [°C]."""
    held_back_by_cold: bool = False
    """Warm cells would take more there."""

    @property
    def in_words(self) -> str:
        """Say the power, and that cold holds it back where it does.

        Examples
        --------
        >>> Supply(None, 6.12, 0.95).in_words
        '6.1 kW into the battery'
        >>> Supply(None, 2.4, 0.95, -8.0, held_back_by_cold=True).in_words
        '2.4 kW into the battery, which takes no more at −8 °C and may refuse'
        """
        said = f"{self.power_kw:.1f} kW into the battery"
        if not self.held_back_by_cold or self.cell_c is None:
            return said
        return f"{said}, which takes no more at {degrees(self.cell_c)} and may refuse"


def source_of(catalog: Catalog, day: CustomersDay) -> ChargingSource | None:
    """Find where a day can charge; None where the catalog has lost it."""
    wanted = day.charging_source or catalog.workshop.overnight_source
    return next((source for source in catalog.charging_sources if source.id == wanted), None)


def supply_of(catalog: Catalog, day: CustomersDay, parts: Parts) -> Supply:
    """Tell what a day can charge with halfway.

    The battery is taken as cold as at the start, though driving warms it: the safe side.
    """
    source, pack = source_of(catalog, day), parts.get("pack", Pack)
    if source is None or pack is None:
        return Supply(source, 0.0, 1.0)
    cell_c = min(cells_of(day), WARM_C)
    power = charging_power(source, parts, pack, cell_c)
    return Supply(
        source,
        power_kw=0.0 if power is None else max(power.kw_half_full, 0.0),
        full_enough_share=taper_from_percent(source, pack) / 100,
        cell_c=cell_c,
        held_back_by_cold=power is not None and power.decided_by.by == "temperature",
    )


def halfway(day: CustomersDay, supply: Supply, usable_kwh: float) -> Halfway:
    """Describe what a day charges halfway."""
    return Halfway(
        charged_share=supply.power_kw * day.hours_charging / usable_kwh,
        full_enough_share=supply.full_enough_share,
        reserve_share=day.reserve_percent / 100,
    )
