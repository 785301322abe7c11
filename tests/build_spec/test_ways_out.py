"""Ways out are the smallest changes that looking at all builds finds, in their order."""

import random
from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal
from functools import cache
from itertools import pairwise

import pytest

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.engines import Engines
from configurator.build_spec.facts import extents_of_complete
from configurator.build_spec.findings import breaks_rule
from configurator.build_spec.limit_forms import within
from configurator.build_spec.pipeline import stand
from configurator.build_spec.settle import Settled, settle
from configurator.build_spec.standing import OptionState
from configurator.build_spec.ways_out import ways_out, why_no_way_out
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from tests.build_spec.test_exactness import limit_at
from tests.build_spec.tiny_builds import (
    FactKey,
    KnownBuild,
    allowed_builds,
    build_of,
    changed,
    compiled_of,
    every_build,
    tiny_catalog,
    with_limits,
)

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
LIMITED: list[FactKey] = [
    ("price_gbp", None),
    ("laden_rear_axle_kg", None),
    ("handover_weeks", None),
    ("low_voltage_margin_w", None),
    ("hill_restart_percent", None),
    *(("range_low_km", case.id) for case in tiny_catalog().driving_cases),
]

Pair = tuple[str, str]
Altered = frozenset[Pair]


@cache
def gratis_catalog() -> Catalog:
    """Make every option cost nothing and take no time, so that many ways out tie in price."""
    gratis = {"parts_gbp": Decimal("0.00"), "work": (), "on_vehicle": {}}
    groups = tuple(
        group.model_copy(
            update={"options": tuple(o.model_copy(update=gratis) for o in group.options)}
        )
        for group in tiny_catalog().groups
    )
    return changed(tiny_catalog(), "gratis", groups=groups)


class Talk:
    """A catalog with drawn limits, picks for most groups, and all builds that are allowed."""

    def __init__(
        self, vehicle: str, seed: int, *, marks: int = 0, catalog: Catalog | None = None
    ) -> None:
        chance = random.Random(seed)  # noqa: S311  a seeded test needs no secrecy
        self.builds: list[KnownBuild] = []
        while not self.builds:
            keys = chance.sample(LIMITED, chance.choice([1, 2]))
            limits = [limit_at(vehicle, key, chance.uniform(0.1, 0.9)) for key in keys]
            self.compiled = compiled_of(with_limits(catalog or tiny_catalog(), *limits), vehicle)
            plain = catalog is None
            self.builds = allowed_builds(self.compiled) if plain else gratis(self.compiled)
        # A build just within a limit has options out on every side, and many ways to let them in.
        name, case = keys[0]
        above = limits[0].at_most is not None
        edge = sorted(self.builds, key=lambda b: b.facts[name, case], reverse=above)
        picks = dict(edge[chance.choice([0, 1, len(edge) // 2]) % len(edge)].choices)
        for group in chance.sample(sorted(picks), chance.choice([0, 0, 1, 2])):
            del picks[group]
        self.marked = tuple(chance.sample(sorted(picks), marks))
        build = build_of(vehicle, **picks).model_copy(update={"must_keep": self.marked})
        self.settled = settle(self.compiled, build)

    def options_out(self) -> Iterator[Pair]:
        for group, option in self.compiled.offer.pairs():
            if not self.settled.available[group.id][option.id]:
                yield group.id, option.id

    def default(self, picks: Mapping[str, str]) -> KnownBuild:
        """Complete picks with as many house choices as can be, then at the least price."""
        house = self.compiled.offer.house_choices()
        return min(
            (build for build in self.builds if picks.items() <= build.choices.items()),
            key=lambda build: (
                sum(build.choices[group] != option for group, option in house.items()),
                build.facts["price_gbp", None],
            ),
        )

    def expected(self, wanted: Pair) -> list[tuple[Pair, ...]]:
        altered = irreducible(self.builds, self.settled.picks, wanted, self.settled.kept)
        return sorted((self.in_order(c) for c in altered), key=lambda c: self.size(wanted, c))[:3]

    def in_order(self, change: Altered) -> tuple[Pair, ...]:
        return tuple(
            (group.id, option.id)
            for group, option in self.compiled.offer.pairs()
            if (group.id, option.id) in change
        )

    def size(self, wanted: Pair, change: tuple[Pair, ...]) -> tuple[object, ...]:
        compiled, picks = self.compiled, self.settled.picks
        places = [(group.id, option.id) for group, option in compiled.offer.pairs()]
        pence = sum(self.pence(p) - self.pence((p[0], picks[p[0]])) for p in change)
        before = self.default(picks).facts[harder_range()]
        after = self.default({**picks, **dict([*change, wanted])}).facts[harder_range()]
        moved_km = abs(round(after - before, 3))
        return len(change), pence, moved_km, [places.index(pair) for pair in change]

    def pence(self, pair: Pair) -> int:
        return self.compiled.basis.option_pence(self.compiled.offer.option_by_pair[pair])


def gratis(compiled: Compiled) -> list[KnownBuild]:
    """List the allowed builds of a catalog whose facts are not those of the tiny one."""
    every = [
        KnownBuild(
            build.choices,
            {(e.name, e.case): e.low for e in extents_of_complete(compiled.book, build.choices)},
        )
        for build in every_build(compiled.offer.vehicle.id)
    ]
    return [
        build
        for build in every
        if not any(breaks_rule(rule, build.choices) for rule in compiled.rules)
        if all(
            within(f.limit, build.facts[f.limit.limit, f.limit.case], f.bound)
            for f in compiled.limits
        )
    ]


def harder_range() -> FactKey:
    workshop = tiny_catalog().workshop
    cases = [case for case in tiny_catalog().driving_cases if case.id in workshop.headline_cases]
    return "range_mid_km", min(cases, key=lambda case: case.temperature_c).id


def irreducible(
    builds: list[KnownBuild], picks: Mapping[str, str], wanted: Pair, kept: Collection[str]
) -> list[Altered]:
    """Find what builds with the wanted option alter, where no build alters only a part of it."""
    if wanted[0] in kept:
        return []
    others = {group: option for group, option in picks.items() if group != wanted[0]}
    altered = {
        frozenset((g, build.choices[g]) for g in others if build.choices[g] != others[g])
        for build in builds
        if build.choices[wanted[0]] == wanted[1]
        if all(build.choices[group] == picks[group] for group in kept)
    }
    return [each for each in altered if not any(part < each for part in altered)]


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", range(14))
def test_ways_out_are_the_smallest_that_looking_at_all_builds_finds(
    vehicle: str, seed: int
) -> None:
    talk = Talk(vehicle, seed)
    for pair in talk.options_out():
        told = ways_out(talk.compiled, talk.settled, *pair)
        assert talk.expected(pair) == [way.changes for way in told], pair


def test_of_ways_that_tie_in_price_the_least_change_of_range_comes_first() -> None:
    telling = 0
    for seed in range(24):
        talk = Talk("clover-float", seed, catalog=gratis_catalog())
        for pair in talk.options_out():
            told = [way.changes for way in ways_out(talk.compiled, talk.settled, *pair)]
            assert talk.expected(pair) == told, (seed, pair)
            sizes = [talk.size(pair, change) for change in told]
            telling += sum(a[:2] == b[:2] and a[3:] > b[3:] for a, b in pairwise(sizes))
    # In some, the order of the catalog would have been another.
    assert telling > 3


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", range(14))
def test_no_way_out_alters_what_must_be_kept(vehicle: str, seed: int) -> None:
    talk = Talk(vehicle, seed, marks=2)
    assert set(talk.marked) == talk.settled.kept
    for pair in talk.options_out():
        told = ways_out(talk.compiled, talk.settled, *pair)
        assert talk.expected(pair) == [way.changes for way in told], pair
        if not told:
            assert why_no_way_out(talk.compiled, talk.settled, *pair)


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", range(8))
def test_the_difference_of_a_way_out_is_that_of_the_default_builds(vehicle: str, seed: int) -> None:
    talk = Talk(vehicle, seed)
    picks = talk.settled.picks
    before = talk.default(picks).facts
    for pair in talk.options_out():
        for way in ways_out(talk.compiled, talk.settled, *pair):
            after = talk.default({**picks, **dict([*way.changes, pair])}).facts
            told = way.difference
            assert told is not None
            for key, value in (
                (("price_gbp", None), float(told.price_gbp)),
                (harder_range(), told.range_km),
                (("kerb_mass_kg", None), told.kerb_mass_kg),
            ):
                assert pytest.approx(after[key] - before[key], abs=0.002) == value
            weeks = after["handover_weeks", None] - before["handover_weeks", None]
            assert round(7 * weeks) == told.handover_days


def test_the_drawn_talks_have_ways_out_of_every_number() -> None:
    """Guard the tests above against talks in which nothing is out or nothing helps."""
    counts = {
        len(ways_out(talk.compiled, talk.settled, *pair))
        for vehicle in VEHICLES
        for seed in range(14)
        for talk in [Talk(vehicle, seed)]
        for pair in talk.options_out()
    }
    assert {0, 1, 2, 3} == counts


def heater_of(build: BuildInput) -> OptionState:
    groups = stand(tiny_catalog(), build, Engines(), {p.id for p in tiny_catalog().workshop.talk})
    return next(o for group in groups for o in group.options if o.option_id == "hot-wire")


def test_a_kept_choice_in_the_way_is_named() -> None:
    build = build_of("clover-float", cells="few-cells", livery="sloe")
    kept = build.model_copy(update={"must_keep": ("cells", "livery")})
    assert heater_of(build).ways_out
    heater = heater_of(kept)
    assert () == heater.ways_out
    assert "Few cells (cells) is marked as must keep" in heater.no_way_out
    assert "sloe" not in heater.no_way_out.lower()


def test_the_kept_choice_of_the_own_group_is_named() -> None:
    build = build_of("clover-float", cells="few-cells", warmth="scarf")
    kept = build.model_copy(update={"must_keep": ("warmth",)})
    assert heater_of(build).ways_out
    heater = heater_of(kept)
    assert () == heater.ways_out
    assert heater.no_way_out.endswith("is marked as must keep; take the mark away to change it.")


def test_what_no_build_has_says_that_nothing_lets_it_in() -> None:
    limit = limit_at("clover-float", ("price_gbp", None), 0.0)
    catalog = with_limits(tiny_catalog(), limit)
    compiled = compiled_of(catalog, "clover-float")
    settled: Settled = settle(compiled, build_of("clover-float"))
    assert () == ways_out(compiled, settled, "cells", "many-cells")
    expected = "No change of other choices lets it in."
    assert expected == why_no_way_out(compiled, settled, "cells", "many-cells")


def test_the_price_of_a_way_out_is_that_of_the_options_taken() -> None:
    build = build_of("clover-float", cells="few-cells", springs="old-springs")
    compiled: Compiled = compiled_of(tiny_catalog(), "clover-float")
    settled = settle(compiled, build)
    (way,) = ways_out(compiled, settled, "warmth", "hot-wire")
    assert (("cells", "many-cells"), ("springs", "stiff-springs")) == way.changes
    pence = {p: compiled.basis.option_pence(o) for p, o in compiled.offer.option_by_pair.items()}
    house = compiled.offer.group_by_id["warmth"].house_choice
    expected = (
        pence["cells", "many-cells"]
        - pence["cells", "few-cells"]
        + pence["springs", "stiff-springs"]
        - pence["springs", "old-springs"]
        + pence["warmth", "hot-wire"]
        - pence["warmth", house]
    )
    assert Decimal(expected) / 100 == way.price_difference_gbp


def test_a_withdrawn_choice_is_shown_and_its_mark_binds_nobody() -> None:
    build = build_of("clover-float", livery="lost-colour", cells="few-cells")
    marked = build.model_copy(update={"must_keep": ("livery",)})
    groups = {group.group_id: group for group in stand(tiny_catalog(), marked, Engines())}
    assert ("lost-colour", None, True) == (
        groups["livery"].withdrawn_option_id,
        groups["livery"].chosen_option_id,
        groups["livery"].must_keep,
    )
    assert (None, False) == (groups["cells"].withdrawn_option_id, groups["cells"].must_keep)
    assert heater_of(build).ways_out == heater_of(marked).ways_out != ()
