"""The other side of a limit: what it tells holds, and it ends."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.falling_limit import FallingLimit
from configurator.build_spec.vehicle_rulebook import vehicle_rulebook
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.rules.audit import breach_of_limit, engine_leaving_one_out
from configurator.rules.problem import ConditionalLimit
from configurator.rules.replay import build_for
from configurator.rules.rulebook import LimitParts, Question, Rulebook, Wanted

ROOT = Path(__file__).parents[2]
VEHICLES = [
    ("tests/catalogs/tiny", "clover-van"),
    ("catalog", "marnock-estuary"),
    ("catalog", "fennick-linnet"),
]


def rulebook(folder: str, vehicle: str) -> Rulebook:
    catalog = load_catalog(ROOT / folder)
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="Nobody"),
        vehicle=vehicle,
        priced_on=max(vat.valid_from for vat in catalog.workshop.vat),
    )
    return vehicle_rulebook(Engines().compiled(catalog, build))


def some_build(
    book: Rulebook, random: Random, region: ConditionalLimit | None = None
) -> dict[str, str]:
    """Draw a build, rules left aside, within a region."""
    when = {} if region is None else region.when
    return {
        domain.id: random.choice(sorted(when.get(domain.id, domain.options)))
        for domain in book.domains
    }


def falling(book: Rulebook) -> Iterator[tuple[str, LimitParts]]:
    for name, limit in book.limits.items():
        if isinstance(limit.lazy, FallingLimit):
            yield name, limit


@pytest.mark.parametrize(("folder", "vehicle"), VEHICLES)
def test_what_it_tells_is_broken_by_the_build_and_by_no_build_beyond_the_limit(
    folder: str, vehicle: str
) -> None:
    book = rulebook(folder, vehicle)
    random = Random(vehicle)  # noqa: S311  seeded chance makes the test repeatable
    tried = list(falling(book))
    assert tried
    for _, limit in tried:
        lazy, opposite = limit.lazy, limit.opposite
        assert lazy is not None
        assert opposite is not None
        for _ in range(12):
            build = some_build(book, random)
            told = opposite.broken_by(build)
            assert (lazy.broken_by(build) is None) == (told is not None)
            if told is None:
                continue
            assert not told.keeps(build)
            for _ in range(12):
                other = some_build(book, random, told)
                assert told.keeps(other) or lazy.broken_by(other) is None


@pytest.mark.parametrize(("folder", "vehicle"), VEHICLES[1:])
def test_engine_and_plain_method_agree_which_limits_are_out_of_reach(
    folder: str, vehicle: str
) -> None:
    book = rulebook(folder, vehicle)
    engine = engine_leaving_one_out(book)
    for name, limit in falling(book):
        others = tuple(member for member in book.binding() if member != ("limit", name))
        found = breach_of_limit(engine, name, limit)
        plain = build_for(book, Question(others, Wanted(breaks=("limit", name))))
        assert (found is None) == (plain is None)
        for build in (found, plain):
            assert build is None or not limit.keeps(build)
