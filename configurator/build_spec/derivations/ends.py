"""Which builds give the least and the greatest of a fact while choices are open."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.derivation import DerivationEnd
from configurator.build_spec.drive_extremes import drive_extreme
from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.extremes import Asking
from configurator.build_spec.facts import gap_of
from configurator.build_spec.settle import Settled
from configurator.build_spec.sum_facts import SumFact
from configurator.catalog.models.rule import FactName

Pair = tuple[str, str]
"""Group and option."""


def ends_of(
    compiled: Compiled, settled: Settled, name: FactName, case: str | None
) -> tuple[DerivationEnd, ...]:
    """Find a build for each end, told by the open choices that move the fact.

    Of facts that are a margin or a ratio the Spec tells the ends alone: their search tells values,
    and no single build.
    """
    asking = Asking(compiled.engine, settled.choices, compiled.known, exact=False)
    book = compiled.book
    total, driven = book.sum_fact(name), book.drive_fact(name, case)
    if total is not None:
        return _ends_of_sum(compiled, settled, asking, total)
    return () if driven is None else _ends_of_drive(compiled, settled, asking, driven)


def _ends_of_sum(
    compiled: Compiled, settled: Settled, asking: Asking, fact: SumFact
) -> tuple[DerivationEnd, ...]:
    gap = gap_of(fact)
    found = (asking.least(fact.quantity, {}, gap), asking.greatest(fact.quantity, {}, gap))
    ends = [
        (fact.value(fact.quantity.of(answer[1])), answer[1])
        for answer in found
        if answer is not None
    ]
    return _told(compiled, settled, ends, lambda pair: fact.quantity.weights.get(pair, 0))


def _ends_of_drive(
    compiled: Compiled, settled: Settled, asking: Asking, fact: DriveFact
) -> tuple[DerivationEnd, ...]:
    book = compiled.book
    on, mass_g = book.dependence(fact), book.mass_of(fact)
    found = [
        drive_extreme(asking, book.offer, fact, on, mass_g, favourable=favourable)
        for favourable in (False, True)
    ]
    ends = [(extreme.value, extreme.build) for extreme in found if extreme is not None]
    offer = book.offer.reading(fact.effects)

    def brings(pair: Pair) -> object:
        return (
            mass_g.weights.get(pair, 0),
            offer.telling_effects.get(pair),
            tuple(fit for fit in offer.telling_fits.get(pair, ()) if fit[0] in fact.reads),
        )

    return _told(compiled, settled, ends, brings)


def _told(
    compiled: Compiled,
    settled: Settled,
    ends: list[tuple[float, Mapping[str, str]]],
    brings: Callable[[Pair], object],
) -> tuple[DerivationEnd, ...]:
    """Name the open groups of which the two builds bring something else to the fact."""
    if len(ends) < 2:
        return ()
    least, greatest = sorted(ends, key=lambda end: end[0])
    if least[0] == greatest[0]:
        return ()
    differ = {
        group.id
        for group in compiled.offer.groups
        if group.id not in settled.choices
        if brings((group.id, least[1][group.id])) != brings((group.id, greatest[1][group.id]))
    }
    return tuple(
        DerivationEnd(
            words=words,
            value=value,
            choices=tuple(
                f"{group.label}: {option.label}"
                for group, option in compiled.offer.pairs()
                if group.id in differ and build[group.id] == option.id
            ),
        )
        for words, (value, build) in (("Least", least), ("Greatest", greatest))
    )
