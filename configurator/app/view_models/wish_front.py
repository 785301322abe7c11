"""Price against winter range, as a list that a person can take from and as points of a chart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.app.view_models.wish_answers import choices_key
from configurator.app.view_models.words import money
from configurator.build_spec.fact_names import with_unit
from configurator.build_spec.wish_answer import FrontPoint, WishFront
from configurator.catalog.models.build import BuildInput, Wish
from configurator.drawings.price_range_front import PricedRange, Wanted


@dataclass(frozen=True)
class FrontRow:
    """A build of the front in the list."""

    key: str
    name: str
    """The number that stands in its disc on the chart."""
    price: str
    range: str
    label: str
    standing: str
    """How it stands to the targets for price and this range; empty without such targets."""
    is_chosen_now: bool
    choices: Mapping[str, str]


def front_rows(front: WishFront, build: BuildInput) -> tuple[FrontRow, ...]:
    """List the builds of the front, cheapest first."""
    wanted = wanted_on(front, build.wishes)
    return tuple(
        FrontRow(
            key=choices_key(point.choices),
            name=str(number),
            price=money(point.price_gbp),
            range=with_unit("range_low_km", point.range_km),
            label=point.label,
            standing=_standing(point, wanted),
            is_chosen_now=dict(point.choices) == build.choices,
            choices=point.choices,
        )
        for number, point in enumerate(front.points, start=1)
    )


def front_builds(front: WishFront, build: BuildInput) -> tuple[PricedRange, ...]:
    """Prepare the same builds for the chart, under the same names."""
    return tuple(
        PricedRange(
            str(number),
            float(point.price_gbp),
            point.range_km,
            is_chosen=dict(point.choices) == build.choices,
        )
        for number, point in enumerate(front.points, start=1)
    )


def wanted_on(front: WishFront, wishes: Sequence[Wish]) -> Wanted:
    """Find the strictest targets for what the chart shows."""
    prices = [w.at_most for w in wishes if w.fact == "price_gbp" and w.at_most is not None]
    ranges = [
        wish.at_least
        for wish in wishes
        if (wish.fact, wish.case) == ("range_low_km", front.case_id) and wish.at_least is not None
    ]
    return Wanted(min(prices, default=None), max(ranges, default=None))


def front_note(front: WishFront) -> str:
    """Say how far the list can be trusted to be whole."""
    if not front.points:
        return "No complete build has a range in this case."
    whole = (
        "No other build is both cheaper and goes further than one of these."
        if front.is_complete
        else "Between these there may be more builds that were not looked at."
    )
    return f"{whole} {front.case_label}; the range is the low edge of its estimate."


def _standing(point: FrontPoint, wanted: Wanted) -> str:
    if wanted.most_gbp is None and wanted.least_km is None:
        return ""
    dear = wanted.most_gbp is not None and float(point.price_gbp) > wanted.most_gbp
    short = wanted.least_km is not None and point.range_km < wanted.least_km
    if dear and short:
        return "over the wished price, short of the wished range"
    if dear:
        return "over the wished price"
    return "short of the wished range" if short else "as wished"
