"""Facts of the electrical set: by hand, exact while choices are open, absent where not stated."""

import math
from itertools import product

import pytest

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.engines import Engines
from configurator.build_spec.extremes import Asking
from configurator.build_spec.facts import extents_of_complete, extents_of_open
from configurator.build_spec.findings import breaks_rule
from configurator.build_spec.limit_forms import within
from configurator.build_spec.settle import settle
from configurator.catalog.models.component import Pack
from configurator.catalog.models.rule import FactName, Limit
from tests.build_spec.electrical_builds import choices_of, electrical_catalog, limit
from tests.build_spec.tiny_builds import build_of, changed, compiled_of, tiny_catalog, with_limits

VAN = "clover-van"
NAMES: tuple[FactName, ...] = (
    "cable_margin_a",
    "fuse_margin_a",
    "fuse_over_cable_a",
    "contactor_margin_a",
    "rated_voltage_margin_v",
    "pre_charge_seconds",
    "bleed_seconds",
    "dc_inlet_voltage_over_v",
    "dc_inlet_voltage_under_v",
)


def facts(compiled: Compiled, choices: dict[str, str]) -> dict[str, float]:
    found = extents_of_complete(compiled.book, choices)
    return {e.name: e.low for e in found if e.case is None and e.name in NAMES}


def all_choices(compiled: Compiled) -> list[dict[str, str]]:
    groups = compiled.offer.groups
    return [
        {group.id: option.id for group, option in zip(groups, options, strict=True)}
        for options in product(*(group.options for group in groups))
    ]


# Source: first principles, worked out by hand. At the terminals 14 kW / 0.88 and 120 W of the
# turning drive, 800 W / 0.9 for the converter, no heater: 16 918 W from an empty battery of 65 V.
def test_the_facts_are_those_worked_out_by_hand() -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    found = facts(compiled, choices_of(compiled, cells="few-cells", warmth="scarf"))
    power_w = 14_000 / 0.88 + 120 + 800 / 0.9
    ohm = 0.03 * 1.4  # aged
    current_a = (65 - math.sqrt(65**2 - 4 * ohm * power_w)) / (2 * ohm)
    carries_a = 250 * math.sqrt((90 - 60) / (90 - 30))
    expected = {
        "cable_margin_a": carries_a - current_a,
        "fuse_margin_a": 200 - 1.25 * current_a,
        "fuse_over_cable_a": 200 - carries_a,
        "contactor_margin_a": 340 - current_a,
        "rated_voltage_margin_v": 80 - 86,
        "pre_charge_seconds": 5 * 50 * 2000e-6,
        "bleed_seconds": 4000 * 2000e-6 * math.log(86 / 60),
    }
    assert expected.keys() == found.keys()
    for name, value in expected.items():
        assert value == pytest.approx(found[name], rel=1e-9), name


def test_a_heater_at_full_power_counts_too() -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    without = facts(compiled, choices_of(compiled, cells="many-cells", warmth="scarf"))
    warmed = facts(compiled, choices_of(compiled, cells="many-cells", warmth="hot-wire"))
    power_w = 1500 / 0.98
    grown_a = without["contactor_margin_a"] - warmed["contactor_margin_a"]
    # Each further watt takes more than 1 / 65 V of the empty battery, since that sags.
    assert power_w / 65 < grown_a < power_w / 45


def test_an_aged_battery_counts_and_never_lowers_the_current() -> None:
    catalog = electrical_catalog()
    older = tuple(
        part.model_copy(update={"aged_resistance_percent": 200.0})
        if isinstance(part, Pack)
        else part
        for part in catalog.components
    )
    compiled = compiled_of(catalog, VAN)
    choices = choices_of(compiled, cells="many-cells")
    aged = compiled_of(changed(catalog, "older", components=older), VAN)
    before, after = facts(compiled, choices), facts(aged, choices)
    assert after["fuse_margin_a"] < before["fuse_margin_a"]


def test_what_nobody_stated_has_no_fact_and_breaks_no_limit() -> None:
    limits = [limit(name, at_least=1e6) for name in NAMES]
    compiled = Engines().compiled(with_limits(tiny_catalog(), *limits), build_of(VAN))
    choices = compiled.offer.house_choices()
    assert {} == facts(compiled, choices)
    assert all(forms.keeps(choices) for forms in compiled.limits)


def some_limits(compiled: Compiled, share: float) -> list[Limit]:
    """Bound each fact so that about a share of all builds keeps it."""
    values: dict[str, list[float]] = {}
    for choices in all_choices(compiled):
        for name, value in facts(compiled, choices).items():
            values.setdefault(name, []).append(value)
    limits = []
    for name in NAMES:
        if name in values:
            ordered = sorted(values[name])
            bound = ordered[int(share * (len(ordered) - 1))]
            limits.append(limit(name, at_least=round(bound - 0.001, 3)))
    return limits


@pytest.mark.parametrize(
    ("vehicle", "name"),
    [(VAN, name) for name in NAMES] + [("clover-float", name) for name in NAMES[:7]],
)
@pytest.mark.parametrize("share", [0.3, 0.6])
def test_availability_and_from_to_are_those_of_all_builds(
    vehicle: str, name: FactName, share: float
) -> None:
    free = compiled_of(electrical_catalog(), vehicle)
    [bounded] = [found for found in some_limits(free, share) if found.limit == name]
    compiled = compiled_of(with_limits(electrical_catalog(), bounded), vehicle)
    [forms] = compiled.limits
    allowed = [
        choices
        for choices in all_choices(compiled)
        if not any(breaks_rule(rule, choices) for rule in compiled.rules)
        and within(bounded, facts(compiled, choices).get(bounded.limit, math.inf), forms.bound)
    ]
    settled = settle(compiled, build_of(vehicle))
    assert bool(allowed) == settled.is_possible
    for group in compiled.offer.groups if allowed else ():
        possible = {choices[group.id] for choices in allowed}
        told = {option for option, is_so in settled.available[group.id].items() if is_so}
        assert possible == told
    extents = extents_of_open(
        compiled.book,
        Asking(compiled.engine, {}),
        list(compiled.limits),
        lambda _: None,
        lambda wanted, _: wanted in NAMES,
    )
    told_ends = {e.name: (e.low, e.high) for e in extents if e.name in NAMES}
    for each in NAMES:
        values = [found[each] for choices in allowed if each in (found := facts(compiled, choices))]
        if values:
            assert (min(values), max(values)) == pytest.approx(told_ends[each], abs=1e-6), each
