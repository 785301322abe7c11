"""A build found for wishes, told with its figures and with what it gives up."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.facts import extents_of_complete
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.spec import Fact
from configurator.build_spec.wish_answer import WishedBuild
from configurator.build_spec.wish_engine import WishEngine
from configurator.build_spec.wish_kinds import KindOfBuild
from configurator.build_spec.wish_words import (
    Values,
    sentences_beside,
    sentences_on_choices,
)
from configurator.catalog.models.rule import FactName
from configurator.units import pounds


def told_builds(wishing: WishEngine, kinds: Sequence[KindOfBuild]) -> tuple[WishedBuild, ...]:
    """Tell builds with their figures; the first is what the others are compared with."""
    facts = [_facts(wishing.compiled.book, kind) for kind in kinds]
    values = [{key: fact.low for key, fact in of_build.items()} for of_build in facts]
    return tuple(
        WishedBuild(
            choices=kind.choices,
            price_gbp=pounds(wishing.compiled.book.price.of(kind.choices)),
            facts=_shown(wishing, facts[number]),
            preferences_kept=sum(
                kind.choices[preference.group] == preference.option
                for preference in wishing.build.preferences
            ),
            gives_up=_gives_up(wishing, kind, values[number], values[0]),
            differs_by=kind.differs_by,
        )
        for number, kind in enumerate(kinds)
    )


def _facts(book: FactBook, kind: KindOfBuild) -> dict[tuple[FactName, str | None], Fact]:
    extents = extents_of_complete(book, kind.choices)
    return {(extent.name, extent.case): extent.as_fact() for extent in extents}


def _shown(wishing: WishEngine, facts: dict[tuple[FactName, str | None], Fact]) -> tuple[Fact, ...]:
    """Take the facts of the wishes, then those that every build is judged by, each once."""
    winter = harder_headline_case(wishing.compiled.catalog).id
    keys: list[tuple[FactName, str | None]] = [
        *((target.wish.fact, target.wish.case) for target in wishing.targets),
        ("price_gbp", None),
        ("range_low_km", winter),
        ("kerb_mass_kg", None),
        ("handover_weeks", None),
    ]
    return tuple(facts[key] for key in dict.fromkeys(keys) if key in facts)


def _gives_up(
    wishing: WishEngine, kind: KindOfBuild, values: Values, first: Values
) -> tuple[str, ...]:
    """Say what the figures do not; how they stand to the wishes is told beside each of them."""
    return (
        *sentences_on_choices(wishing.compiled, wishing.build, kind.choices),
        *sentences_beside(wishing.compiled, first, values),
    )
