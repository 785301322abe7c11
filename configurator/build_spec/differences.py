"""What changed picks do to the build as the workshop would complete it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.standing import Difference
from configurator.pricing.finish import whole_days
from configurator.units import pounds


@dataclass(frozen=True)
class Figures:
    """Four figures of one complete build."""

    price_pence: int
    range_km: float | None
    kerb_g: int
    handover_days: int


def default_build(compiled: Compiled, picks: Mapping[str, str]) -> Mapping[str, str] | None:
    """Complete picks with as many of the workshop's choices as fit, then at the least price.

    Returns
    -------
    mapping of str to str or None
        None where the picks contradict each other.
    """
    return compiled.default_builds.get_or_make(
        frozenset(picks.items()),
        lambda: compiled.engine.completion(
            picks, compiled.offer.house_choices(), compiled.book.price
        ),
    )


def figures_of_default(compiled: Compiled, picks: Mapping[str, str]) -> Figures | None:
    """Tell the figures of the default build with some picks; None if they contradict each other."""
    book, build = compiled.book, default_build(compiled, picks)
    if build is None:
        return None
    case = harder_headline_case(compiled.catalog)
    fact = book.drive_fact("range_mid_km", case.id)
    range_km = None if fact is None else fact.evaluate([book.state(fact, build)])[0]
    ticks = max(path.of(build) for path in book.plan.paths)
    return Figures(
        price_pence=book.price.of(build),
        range_km=range_km,
        kerb_g=book.masses.kerb_g.of(build),
        handover_days=whole_days(ticks, compiled.catalog.workshop.hours_per_week),
    )


def difference_between(compiled: Compiled, before: Figures, after: Figures) -> Difference:
    """Tell what the second build has more than the first."""
    changed_km = None
    if before.range_km is not None and after.range_km is not None:
        changed_km = round(after.range_km - before.range_km, 3)
    return Difference(
        price_gbp=pounds(after.price_pence - before.price_pence),
        range_km=changed_km,
        range_label=harder_headline_case(compiled.catalog).label,
        kerb_mass_kg=(after.kerb_g - before.kerb_g) / 1000,
        handover_days=after.handover_days - before.handover_days,
    )
