"""Reasons are minimal, and their numbers are those of all builds computed one by one."""

import re
from collections.abc import Collection, Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import plain_with_unit, telling_decimals
from configurator.build_spec.findings import breaks_rule
from configurator.build_spec.limit_forms import LimitForms, within
from configurator.build_spec.reasons import reason_against, reason_for_following
from configurator.build_spec.sentences import contradiction_sentence
from configurator.build_spec.settle import Settled, settle
from configurator.build_spec.standing import Reason
from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import Limit
from configurator.rules.problem import Conflict
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
from tests.rules.workshop_problems import chance

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
SEEDS = range(10)

Pair = tuple[str, str]


@cache
def demo_catalog() -> Catalog:
    return load_catalog(Path(__file__).parents[2] / "catalog")


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
def test_the_number_told_of_a_limit_is_the_best_under_the_choices_and_rules_alone(
    vehicle: str, seed: int
) -> None:
    compiled, settled = talk(vehicle, seed)
    limits = {forms.limit.id: forms for forms in compiled.limits}
    for pair in options_out(compiled, settled):
        reason = reason_against(compiled, settled, *pair)
        alone = list(reason.limits) if len(reason.limits) == 1 else []
        assert alone == [told.limit_id for told in reason.reached]
        assert bool(alone) == ("even with the" in reason.sentence)
        for told in reason.reached:
            forms = limits[told.limit_id]
            left = builds_under(compiled, [*reason.choices, pair], reason.rules, [])
            best = best_under(left, forms.limit)
            assert pytest.approx(best, abs=0.001) == told.reached
            assert forms.bound == told.bound
            assert not within(forms.limit, best, forms.bound)
            missed = plain_with_unit(
                forms.limit.limit,
                abs(told.reached - told.bound),
                telling_decimals(forms.limit.limit, abs(told.reached - told.bound)),
            )
            assert missed in reason.sentence


def test_of_several_limits_none_is_missed_alone_and_they_are_said_to_be_missed_together() -> None:
    seen = 0
    for vehicle in VEHICLES:
        for seed in SEEDS:
            compiled, settled = talk(vehicle, seed)
            limits = {forms.limit.id: forms for forms in compiled.limits}
            for pair in options_out(compiled, settled):
                reason = reason_against(compiled, settled, *pair)
                if len(reason.limits) < 2:
                    continue
                seen += 1
                for name in reason.limits:
                    assert builds_under(compiled, [*reason.choices, pair], reason.rules, [name])
                labels = list(dict.fromkeys(limits[name].limit.label for name in reason.limits))
                assert f"keeps all of these at once: {labels[0]}" in reason.sentence
    assert seen


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
            assert len(shares) <= (2 if told.unit == "kg" else 0)
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
    assert reason.sentence.endswith("so £0.01 too much.")


def test_a_mass_out_of_reach_is_said_with_at_most_two_options_that_weigh_most() -> None:
    vehicle = "clover-float"
    masses = [
        b.facts["kerb_mass_kg", None]
        for b in every_build(vehicle)
        if "many-cells" == b.choices["cells"]
    ]
    limit = price_limit("1").model_copy(
        update={"limit": "kerb_mass_kg", "at_most": min(masses) - 1.0, "because": "It would sink!"}
    )
    compiled = compiled_of(with_limits(tiny_catalog(), limit), vehicle)
    reason = reason_against(compiled, settle(compiled, build_of(vehicle)), "cells", "many-cells")
    assert "It would sink! Purse: even with the lightest choice" in reason.sentence
    assert "1\N{NO-BREAK SPACE}kg too much; what weighs most: Many cells (" in reason.sentence


def test_a_bound_said_without_a_number_ends_in_one_full_stop() -> None:
    compiled = compiled_of(with_limits(tiny_catalog(), price_limit("1000")), "clover-float")
    sentence = contradiction_sentence(compiled, Conflict((), (), ("purse",)))
    assert (
        "No build is possible. More is not in the purse (Purse must be at most £1,000.00)."
        == sentence
    )


@pytest.mark.parametrize("vehicle", [vehicle.id for vehicle in demo_catalog().vehicles])
@pytest.mark.parametrize("share_picked", [0.2, 0.5, 0.9])
def test_no_reason_of_the_demo_is_longer_than_people_read(
    vehicle: str, share_picked: float
) -> None:
    compiled = compiled_of(demo_catalog(), vehicle)
    drawn, picks = chance(round(share_picked * 10)), dict[str, str]()
    for group in compiled.offer.groups:
        if drawn.random() < share_picked:
            possible = compiled.engine.availability(picks)[group.id]
            picks[group.id] = drawn.choice([o for o, is_left in possible.items() if is_left])
    settled = settle(compiled, build_of(vehicle, **picks))
    said = [
        *(reason_against(compiled, settled, *pair) for pair in options_out(compiled, settled)),
        *(reason_for_following(compiled, settled, group_id) for group_id in settled.follows),
    ]
    assert said
    for reason in said:
        assert 3 >= len(re.findall(r"[.!?](?=\s|$)", reason.sentence)), reason.sentence
        assert 450 >= len(reason.sentence), reason.sentence
        assert not re.search(r"\.[.;)]", reason.sentence), reason.sentence


def test_choices_that_quarrel_among_themselves_are_the_reason_for_everything_else() -> None:
    compiled = compiled_of(tiny_catalog(), "clover-float")
    build = build_of("clover-float", cells="few-cells", warmth="hot-wire")
    settled = settle(compiled, build)
    reason = reason_against(compiled, settled, "livery", "nettle")
    assert {("cells", "few-cells"), ("warmth", "hot-wire")} == set(reason.choices)
    assert "cannot stand together, whatever is chosen here." in reason.sentence
