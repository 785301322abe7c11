"""A day in frost says why its charging is slow, and that the battery may refuse."""

from __future__ import annotations

from configurator.build_spec.customers_day import customers_day
from configurator.build_spec.day_result import DayResult
from configurator.build_spec.engines import Engines
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Pack
from configurator.catalog.models.day import CustomersDay
from tests.build_spec.tiny_builds import build_of, changed, tiny_catalog

CURVE = {-20: 5, 0: 10, 20: 100}
"""Of a battery whose maker lets it be charged in frost, slowly."""


def packs_for_frost() -> Catalog:
    catalog = tiny_catalog()
    components = tuple(
        part.model_copy(update={"charge_percent_at": CURVE}) if isinstance(part, Pack) else part
        for part in catalog.components
    )
    return changed(catalog, "packs for frost", components=components)


def driven(**day: object) -> DayResult:
    asked = CustomersDay.model_validate({"reserve_percent": 10, **day})
    catalog = packs_for_frost()
    build = build_of(catalog.vehicles[0].id).model_copy(
        update={"day": asked, "house_choices_for_the_rest": True}
    )
    result = customers_day(Engines().compiled(catalog, build), build)
    assert result is not None
    return result


def charging_told(result: DayResult) -> str:
    return next(told.sentence for told in result.helps if told.kind == "charging")


def test_the_power_of_a_cold_battery_comes_with_its_reason() -> None:
    cold = charging_told(driven(town_km=45, temperature_c=-8, hours_charging=1))
    assert "which takes no more at −8 °C and may refuse" in cold


def test_a_warm_battery_is_not_said_to_refuse() -> None:
    warm = charging_told(driven(town_km=45, temperature_c=-8, battery_c=18, hours_charging=1))
    assert "refuse" not in warm
    assert "kW into the battery" in warm


def test_a_day_that_charges_cold_says_below_what_it_must_not() -> None:
    cold = " ".join(driven(town_km=30, temperature_c=-8, hours_charging=1).assumptions)
    warm = " ".join(driven(town_km=30, temperature_c=15, hours_charging=1).assumptions)
    assert "At −8 °C the battery takes less" in cold
    assert "it may refuse" not in warm
