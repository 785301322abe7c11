"""What the Spec says of charging: pilot, limits, cold, range gained, cost, letter."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from configurator.build_spec.charging_facts import (
    ChargingPower,
    charging_hours_from,
    charging_power,
    hours_at,
)
from configurator.build_spec.charging_result import ChargingLine
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import DcInlet, Pack
from configurator.catalog.models.workshop import Tariff
from configurator.physics.charging import energy_from_mains_kwh
from tests.build_spec.tiny_builds import build_of, changed, every_build, tiny_catalog


# Source: IEC 61851-1 annex A: the duty cycle says 6 to 80 A.
@pytest.mark.parametrize(
    ("current_a", "expected_percent"),
    [(5.0, None), (6.0, 10.0), (80.0, 96.0), (100.0, None)],
)
def test_a_current_that_the_pilot_cannot_say_has_no_duty_cycle(
    current_a: float, expected_percent: float | None
) -> None:
    catalog = tiny_catalog()
    first, *others = catalog.charging_sources
    sources = (first.model_copy(update={"current_a": current_a}), *others)
    other_current = changed(catalog, f"{current_a} A", charging_sources=sources)
    spec = specify(other_current, build_of(catalog.vehicles[0].id), Engines())
    line = next(line for line in spec.charging if line.source_id == first.id)
    assert expected_percent == line.pilot_duty_percent


# Source: IEC 61851-1: a unit never offers more than the cable in its socket carries.
@pytest.mark.parametrize(
    ("resistor_ohm", "expected_percent"), [(None, 53.3), (220, 53.3), (680, 33.3), (1500, 21.7)]
)
def test_the_pilot_offers_no_more_than_the_cable_carries(
    resistor_ohm: int | None, expected_percent: float
) -> None:
    catalog = tiny_catalog()
    first, *others = catalog.charging_sources
    changes = {"current_a": 32.0, "cable_resistor_ohm": resistor_ohm}
    sources = (first.model_copy(update=changes), *others)
    spec = specify(
        changed(catalog, f"{resistor_ohm}", charging_sources=sources),
        build_of(catalog.vehicles[0].id),
        Engines(),
    )
    line = next(line for line in spec.charging if line.source_id == first.id)
    assert expected_percent == line.pilot_duty_percent


VEHICLE = tiny_catalog().vehicles[0].id


def first_line(catalog: Catalog) -> ChargingLine:
    choices = dict(every_build(VEHICLE)[0].choices)
    build = build_of(VEHICLE).model_copy(update={"choices": choices})
    return specify(catalog, build, Engines()).charging[0]


def with_packs(catalog: Catalog, **changes: Any) -> Catalog:
    components = tuple(
        part.model_copy(update=changes) if isinstance(part, Pack) else part
        for part in catalog.components
    )
    return changed(catalog, f"packs {changes}", components=components)


def test_while_choices_are_open_only_the_time_is_told() -> None:
    line = specify(tiny_catalog(), build_of(VEHICLE), Engines()).charging[0]
    assert (None, None, None, ()) == (
        line.power_kw,
        line.limited_by,
        line.mains_kwh,
        line.costs,
    )


def test_a_complete_build_tells_what_an_hour_gains_and_what_the_meter_counts() -> None:
    # Source: first principles; usable energy is 12 kWh x 90 % of which 80 % are charged.
    line = first_line(tiny_catalog())
    assert line.mains_kwh is not None
    stored_kwh = 12 * 0.9 * 0.8
    assert stored_kwh / 0.93 < line.mains_kwh < stored_kwh / 0.91 * 1.03
    assert line.km_per_hour_low is not None
    assert line.km_per_hour_high is not None
    assert line.km_per_hour_low < line.km_per_hour_high
    assert "C" == line.socket_label


def test_a_cost_is_energy_by_tariff_where_it_applies() -> None:
    catalog = tiny_catalog()
    tariff = Tariff(
        id="by-night",
        label="By night",
        where="home",
        pence_per_kwh=Decimal("10.00"),
        checked_on=date(2026, 1, 1),
        source="invented for tests",
    )
    elsewhere = tariff.model_copy(update={"id": "public", "where": "public"})
    workshop = catalog.workshop.model_copy(update={"tariffs": (tariff, elsewhere)})
    line = first_line(changed(catalog, "tariffs", workshop=workshop))
    assert line.mains_kwh is not None
    [cost] = line.costs
    assert float(cost.cost_gbp) == pytest.approx(line.mains_kwh / 10, abs=0.0051)


@pytest.mark.parametrize(
    ("share_at_zero", "limit", "is_charged"),
    [(100, "charger", True), (5, "temperature", True), (0, "temperature", False)],
)
def test_cold_slows_charging_or_forbids_it(
    share_at_zero: int, limit: str, is_charged: bool
) -> None:
    curve = {0: share_at_zero, 20: 100}
    line = first_line(with_packs(tiny_catalog(), charge_percent_at=curve))
    assert (limit, is_charged) == (line.cold_limited_by, line.cold_hours is not None)
    assert line.limited_by == "charger"
    if line.cold_hours is not None:
        # What a cold battery loses by its resistance alone is a little.
        assert line.cold_hours > line.low_hours
        assert (line.cold_hours > 1.02 * line.low_hours) == (share_at_zero < 100)


def test_a_thinner_cable_slows_charging_and_is_named() -> None:
    catalog = tiny_catalog()
    yard = next(s for s in catalog.charging_sources if s.id == "yard-post")
    quick = next(c for c in catalog.components if c.id == "quick-charger")
    pack = next(c for c in catalog.components if c.id == "pack-many")
    assert isinstance(pack, Pack)
    parts = Parts({"pack": pack, "charger": quick})
    thick = charging_power(yard, parts, pack)
    thin_source = yard.model_copy(update={"cable_resistor_ohm": 1500})
    thin = charging_power(thin_source, parts, pack)
    assert thick is not None
    assert thin is not None
    assert ("charger", "cable") == (thick.decided_by.by, thin.decided_by.by)
    slow, usual = hours_at(thin_source, pack, thin), hours_at(yard, pack, thick)
    assert slow is not None
    assert usual is not None
    assert slow > usual


def test_a_pack_may_state_where_its_power_begins_to_fall() -> None:
    later = first_line(with_packs(tiny_catalog(), ac_taper_from_percent=99.0))
    sooner = first_line(with_packs(tiny_catalog(), ac_taper_from_percent=70.0))
    assert (99.0, 70.0) == (later.taper_from_percent, sooner.taper_from_percent)
    assert later.low_hours < sooner.low_hours


DC_UNIT = ChargingSource(
    id="dc-unit",
    label="DC unit",
    supply="dc",
    voltage_v=500,
    current_a=125,
    phases=0,
    max_power_kw=8,
    from_percent=10,
    to_percent=80,
    source="invented for tests",
)


def with_inlet(of_inlet: dict[str, float] | None = None, /, **of_pack: Any) -> tuple[Parts, Pack]:
    found = next(part for part in tiny_catalog().components if part.id == "pack-many")
    assert isinstance(found, Pack)
    pack = found.model_copy(update=of_pack)
    inlet = DcInlet(
        id="inlet",
        kind="dc_inlet",
        label="Inlet",
        maker="Invented Works",
        source="invented for tests",
        max_power_kw=60,
        max_current_a=150,
        socket_label="K",
        **(of_inlet or {}),
    )
    return Parts({"pack": pack, "dc_inlet": inlet}), pack


def dc_power(cell_c: float = 20.0, **of_pack: Any) -> tuple[ChargingPower, Pack]:
    parts, pack = with_inlet(**of_pack)
    power = charging_power(DC_UNIT, parts, pack, cell_c)
    assert power is not None
    return power, pack


@pytest.mark.parametrize("resistance_ohm", [0.0005, 0.02, 0.2])
def test_the_meter_never_counts_more_than_the_source_gives(resistance_ohm: float) -> None:
    power, pack = dc_power(resistance_ohm=resistance_ohm)
    hours = hours_at(DC_UNIT, pack, power)
    assert hours is not None
    stored_kwh = pack.capacity_kwh * pack.usable_percent / 100 * 0.7
    counted_kwh = energy_from_mains_kwh(
        stored_kwh=stored_kwh,
        hours=hours,
        charger_efficiency=1.0,
        pack_resistance_ohm=pack.resistance_ohm,
        pack_voltage_v=pack.nominal_voltage_v,
    )
    assert counted_kwh == pytest.approx(power.kw_half_full * hours, rel=1e-9)


def test_a_cold_battery_loses_more_of_what_it_is_charged_with() -> None:
    as_warm = {"charge_percent_at": {0: 100, 20: 100}}
    (warm, pack), (cold, _) = dc_power(20.0, **as_warm), dc_power(0.0, **as_warm)
    warm_hours, cold_hours = hours_at(DC_UNIT, pack, warm), hours_at(DC_UNIT, pack, cold)
    assert warm_hours is not None
    assert cold_hours is not None
    assert cold_hours > warm_hours


# Source: first principles; the voltage at 80 % of charge lies 0.6 of the way from half to full.
@pytest.mark.parametrize(("full_v", "reaches"), [(590.0, True), (610.0, False)])
def test_a_unit_that_does_not_reach_the_battery_charges_nothing(
    full_v: float, *, reaches: bool
) -> None:
    voltages = {"empty_voltage_v": 300.0, "nominal_voltage_v": 350.0, "full_voltage_v": full_v}
    parts, _ = with_inlet(**voltages)
    assert (charging_hours_from(DC_UNIT)(parts) is not None) == reaches


# Source: first principles; the voltages at 10 % and 80 % of charge are 310 V and 380 V.
@pytest.mark.parametrize(
    ("window", "is_charged"),
    [
        ({}, True),
        ({"min_voltage_v": 310.0, "max_voltage_v": 380.0}, True),
        ({"min_voltage_v": 311.0}, False),
        ({"max_voltage_v": 379.0}, False),
    ],
)
def test_an_inlet_or_charger_whose_window_does_not_hold_the_charge_promises_no_time(
    window: dict[str, float], *, is_charged: bool
) -> None:
    voltages = {"empty_voltage_v": 300.0, "nominal_voltage_v": 350.0, "full_voltage_v": 400.0}
    parts, pack = with_inlet(window, **voltages)
    assert (charging_hours_from(DC_UNIT)(parts) is not None) == is_charged
    charger = next(part for part in tiny_catalog().components if part.kind == "charger")
    wide = {"min_voltage_v": 10.0, "max_voltage_v": 1000.0}
    fitted = charger.model_copy(update={**wide, **window})
    on_mains = DC_UNIT.model_copy(update={"supply": "ac", "phases": 1, "voltage_v": 230.0})
    hours = charging_hours_from(on_mains)(Parts({"pack": pack, "charger": fitted}))
    assert (hours is not None) == is_charged


@pytest.mark.parametrize("chemistry", ["NMC", "LFP"])
@pytest.mark.parametrize(("cell_c", "is_charged"), [(0.0, True), (-1.0, False), (-15.0, False)])
def test_a_battery_that_states_nothing_of_frost_is_not_charged_in_it(
    chemistry: str, cell_c: float, *, is_charged: bool
) -> None:
    power, pack = dc_power(cell_c, chemistry=chemistry, charge_percent_at={})
    assert (hours_at(DC_UNIT, pack, power) is not None) == is_charged
