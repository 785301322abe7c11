"""Builds of the tiny catalog, and all of its complete builds by brute force."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from itertools import product
from pathlib import Path

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.engines import Engines
from configurator.build_spec.facts import extents_of_complete
from configurator.build_spec.findings import breaks_rule
from configurator.build_spec.limit_forms import within
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import FactName, Limit

TINY = Path(__file__).parents[1] / "catalogs" / "tiny"

FactKey = tuple[FactName, str | None]


@dataclass(frozen=True)
class KnownBuild:
    """Complete choices with every fact, computed without the engine."""

    choices: dict[str, str]
    facts: dict[FactKey, float]


@cache
def tiny_catalog() -> Catalog:
    return load_catalog(TINY)


def changed(catalog: Catalog, mark: str, **fields: object) -> Catalog:
    """Change a catalog under a fingerprint of its own, with nothing remembered of the old one."""
    kept = {name: getattr(catalog, name) for name in Catalog.model_fields}
    return Catalog(**{**kept, **fields, "sha256": f"{catalog.sha256}{mark}"})


def with_limits(catalog: Catalog, *limits: Limit) -> Catalog:
    """Put other limits into a catalog, under a fingerprint of its own."""
    return changed(catalog, repr(limits), limits=limits)


def build_of(vehicle: str, **choices: str) -> BuildInput:
    return BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle=vehicle,
        priced_on=date(2026, 11, 25),
        choices={group.replace("_", "-"): option for group, option in choices.items()},
    )


def compiled_of(catalog: Catalog, vehicle: str) -> Compiled:
    return Engines().compiled(catalog, build_of(vehicle))


@cache
def every_build(vehicle: str) -> tuple[KnownBuild, ...]:
    """Compute every combination of options of a vehicle, allowed or not."""
    compiled = compiled_of(with_limits(tiny_catalog()), vehicle)
    return tuple(
        KnownBuild(
            choices,
            {(e.name, e.case): e.low for e in extents_of_complete(compiled.book, choices)},
        )
        for choices in _combinations(compiled)
    )


def allowed_builds(compiled: Compiled) -> list[KnownBuild]:
    """Keep the builds that no rule and no limit forbids, judged by their facts."""
    blocking = [f for f in compiled.limits if f.limit.severity == "blocks"]
    return [
        build
        for build in every_build(compiled.offer.vehicle.id)
        if not any(breaks_rule(rule, build.choices) for rule in compiled.rules)
        if all(
            within(forms.limit, build.facts[forms.limit.limit, forms.limit.case], forms.bound)
            for forms in blocking
            if (forms.limit.limit, forms.limit.case) in build.facts
        )
    ]


def _combinations(compiled: Compiled) -> Iterator[dict[str, str]]:
    groups = compiled.offer.groups
    for options in product(*(group.options for group in groups)):
        yield {g.id: o.id for g, o in zip(groups, options, strict=True)}
