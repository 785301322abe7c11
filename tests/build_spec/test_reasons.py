"""Reasons are minimal, and their numbers are those of all builds computed one by one."""

from collections.abc import Collection, Iterable, Iterator

import pytest

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.findings import breaks_rule
from configurator.build_spec.limit_forms import LimitForms, within
from configurator.build_spec.reasons import reason_against, reason_for_following
from configurator.build_spec.settle import Settled, settle
from configurator.build_spec.standing import Reason
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import Limit
from tests.build_spec.test_exactness import some_limits
from tests.build_spec.tiny_builds import (
    KnownBuild,
    allowed_builds,
    build_of,
    compiled_of,
    every_build,
    tiny_catalog,
    with_limits,
)

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
SEEDS = range(10)

Pair = tuple[str, str]


def some_catalog(vehicle: str, seed: int) -> Catalog:
    return with_limits(tiny_catalog(), *some_limits(vehicle, seed))


def talk(vehicle: str, seed: int) -> tuple[Compiled, Settled]:
    """Compile a catalog with drawn limits, and pick what some allowed build has."""
    compiled = compiled_of(some_catalog(vehicle, seed), vehicle)
    builds = allowed_builds(compiled)
    picks: dict[str, str] = {}
    if builds:
        build = builds[seed * 7 % len(builds)].choices
        picks = {g: o for at, (g, o) in enumerate(sorted(build.items())) if (at + seed) % 2}
    return compiled, settle(compiled, build_of(vehicle, **picks))


def options_out(compiled: Compiled, settled: Settled) -> Iterator[Pair]:
    for group, option in compiled.offer.pairs():
        if not settled.available[group.id][option.id]:
            yield group.id, option.id


def builds_under(
    compiled: Compiled, choices: Iterable[Pair], rules: Collection[str], limits: Collection[str]
) -> list[KnownBuild]:
    """List all builds with some choices that keep some rules and some limits."""
    kept_rules = [rule for rule in compiled.rules if rule.id in rules]
    kept_limits = [forms for forms in compiled.limits if forms.limit.id in limits]
    return [
        build
        for build in every_build(compiled.offer.vehicle.id)
        if set(choices) <= build.choices.items()
        if not any(breaks_rule(rule, build.choices) for rule in kept_rules)
        if all(keeps(forms, build) for forms in kept_limits)
    ]


def keeps(forms: LimitForms, build: KnownBuild) -> bool:
    value = build.facts.get((forms.limit.limit, forms.limit.case))
    return value is None or within(forms.limit, value, forms.bound)


def best_under(builds: list[KnownBuild], limit: Limit) -> float:
    values = [build.facts[limit.limit, limit.case] for build in builds]
    return min(values) if limit.at_most is not None else max(values)


def members_of(reason: Reason) -> list[tuple[str, object]]:
    return [
        *(("choice", pair) for pair in reason.choices),
        *(("rule", rule) for rule in reason.rules),
        *(("limit", limit) for limit in reason.limits),
    ]


def left_by(
    compiled: Compiled, reason: Reason, dropped: object, held: Collection[Pair]
) -> list[KnownBuild]:
    return builds_under(
        compiled,
        [*(pair for pair in reason.choices if pair != dropped), *held],
        [rule for rule in reason.rules if rule != dropped],
        [limit for limit in reason.limits if limit != dropped],
    )


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", SEEDS)
def test_a_reason_holds_and_no_member_of_it_can_be_dropped(vehicle: str, seed: int) -> None:
    compiled, settled = talk(vehicle, seed)
    for pair in options_out(compiled, settled):
        reason = reason_against(compiled, settled, *pair)
        assert set(reason.choices) <= settled.picks.items()
        assert [] == left_by(compiled, reason, None, [pair])
        for _, member in members_of(reason):
            assert left_by(compiled, reason, member, [pair]), (pair, reason, member)


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_reason_says_a_limit_comes_to_is_the_best_that_its_rest_leaves(
    vehicle: str, seed: int
) -> None:
    compiled, settled = talk(vehicle, seed)
    limits = {forms.limit.id: forms for forms in compiled.limits}
    for pair in options_out(compiled, settled):
        reason = reason_against(compiled, settled, *pair)
        assert list(reason.limits) == [told.limit_id for told in reason.reached]
        for told in reason.reached:
            forms = limits[told.limit_id]
            rest = left_by(compiled, reason, told.limit_id, [pair])
            assert pytest.approx(best_under(rest, forms.limit), abs=0.001) == told.reached
            assert forms.bound == told.bound
            assert not within(forms.limit, best_under(rest, forms.limit), forms.bound)


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", SEEDS)
def test_what_weighs_most_is_what_a_swap_in_its_group_would_spare(vehicle: str, seed: int) -> None:
    compiled, settled = talk(vehicle, seed)
    limits = {forms.limit.id: forms.limit for forms in compiled.limits}
    labels = {option.label: (group.id, option.id) for group, option in compiled.offer.pairs()}
    for pair in options_out(compiled, settled):
        reason = reason_against(compiled, settled, *pair)
        for told in reason.reached:
            limit = limits[told.limit_id]
            key = (limit.limit, limit.case)
            shares = [share for _, share in told.heaviest]
            assert sorted(shares, reverse=True) == shares
            rest = left_by(compiled, reason, told.limit_id, [pair])
            best = best_under(rest, limit)
            alike = [b for b in rest if abs(b.facts[key] - best) < 1e-6]
            # Of builds that are equally near, any may be the one that is told of.
            assert any(
                all(
                    pytest.approx(share, abs=0.002) == relief(vehicle, build, labels[label], limit)
                    for label, share in told.heaviest
                )
                for build in alike
            ), (pair, told)


def relief(vehicle: str, build: KnownBuild, pair: Pair, limit: Limit) -> float | None:
    """Tell how much nearer to its limit a build could come with another option of one group."""
    if build.choices[pair[0]] != pair[1]:
        return None
    key, mine = (limit.limit, limit.case), build.choices
    swapped = [
        other.facts[key]
        for other in every_build(vehicle)
        if key in other.facts
        if all(other.choices[group] == option for group, option in mine.items() if group != pair[0])
    ]
    value = build.facts[key]
    return value - min(swapped) if limit.at_most is not None else max(swapped) - value


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("seed", SEEDS)
def test_why_an_option_follows_is_minimal_and_rules_out_all_others(vehicle: str, seed: int) -> None:
    compiled, settled = talk(vehicle, seed)
    for group_id, option_id in settled.follows.items():
        reason = reason_for_following(compiled, settled, group_id)

        def others_left(
            dropped: object,
            reason: Reason = reason,
            group_id: str = group_id,
            option_id: str = option_id,
        ) -> bool:
            left = left_by(compiled, reason, dropped, [])
            return any(build.choices[group_id] != option_id for build in left)

        assert not others_left(None)
        for _, member in members_of(reason):
            assert others_left(member), (group_id, reason, member)


def test_what_follows_goes_away_with_its_cause() -> None:
    compiled = compiled_of(tiny_catalog(), "clover-float")
    caused = settle(compiled, build_of("clover-float", cells="many-cells", livery="sloe"))
    reason = reason_for_following(compiled, caused, "springs")
    assert "stiff-springs" == caused.follows["springs"]
    assert ((("cells", "many-cells"),), ("many-cells-want-springs",), ()) == (
        reason.choices,
        reason.rules,
        reason.limits,
    )
    assert reason.sentence.startswith("Follows from Many cells")
    assert reason.sentence.endswith("Many cells are heavy, and the old springs would sag.")
    without_cause = settle(compiled, build_of("clover-float", livery="sloe"))
    assert "springs" not in without_cause.follows


def price_limit(pounds: str) -> Limit:
    return Limit(
        id="purse",
        label="Purse",
        limit="price_gbp",
        at_most=float(pounds),
        because="More is not in the purse.",
        source="invented for tests",
    )


def test_a_price_out_of_reach_is_said_with_the_number_and_what_costs_most() -> None:
    vehicle = "clover-float"
    prices = {
        b.facts["price_gbp", None]
        for b in every_build(vehicle)
        if "many-cells" == b.choices["cells"]
    }
    limit = price_limit(str(min(prices) - 0.01))
    compiled = compiled_of(with_limits(tiny_catalog(), limit), vehicle)
    settled = settle(compiled, build_of(vehicle))
    reason = reason_against(compiled, settled, "cells", "many-cells")
    assert ("purse",) == reason.limits
    assert "More is not in the purse. Purse: even with the cheapest choice" in reason.sentence
    assert f"£{min(prices):,.2f}; at most £{min(prices) - 0.01:,.2f}" in reason.sentence
    assert "so £0.01 too much. What costs most: Many cells (£" in reason.sentence


def test_choices_that_quarrel_among_themselves_are_the_reason_for_everything_else() -> None:
    compiled = compiled_of(tiny_catalog(), "clover-float")
    build = build_of("clover-float", cells="few-cells", warmth="hot-wire")
    settled = settle(compiled, build)
    reason = reason_against(compiled, settled, "livery", "nettle")
    assert {("cells", "few-cells"), ("warmth", "hot-wire")} == set(reason.choices)
    assert "cannot stand together, whatever is chosen here." in reason.sentence
