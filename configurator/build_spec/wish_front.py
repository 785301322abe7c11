"""The builds among which only price decides against winter range."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.wish_answer import FrontPoint, WishFront
from configurator.build_spec.wish_engine import Bounds, WishEngine, wish_engine
from configurator.build_spec.wish_faults import wish_faults
from configurator.build_spec.wish_giving_way import HAIR
from configurator.build_spec.wish_kinds import ELSEWHERE, bounds_of, telling_groups
from configurator.build_spec.wish_reach import best_reachable
from configurator.build_spec.wish_targets import target_of
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.build import BuildInput, Wish
from configurator.catalog.models.workshop import DrivingCase
from configurator.errors import ChoiceError, Fault
from configurator.rules.problem import ConditionalLimit
from configurator.units import pounds

MOST_POINTS = 12
"""More could not be told apart on a screen."""

FINEST_STEP_KM = 1.0
"""A shorter way further is no reason to pay more."""


@dataclass(frozen=True)
class _Point:
    price_pence: int
    range_km: float
    choices: dict[str, str]


def wish_front(compiled: Compiled, build: BuildInput, case_id: str | None = None) -> WishFront:
    """Lay out price against range.

    The builds keep every rule and limit and the choices marked to be kept; wishes do not bind
    here, since the front shows what they would cost. Each point is exact: no build is as cheap
    and goes a metre further, none goes as far and is cheaper. Of equal builds the one that keeps
    most of the customer's preferences and choices is told.

    Parameters
    ----------
    compiled : Compiled
        The build's facts, rules and engine.
    build : BuildInput
        Its marks bind; its preferences and choices decide among equals.
    case_id : str, optional
        The driving case; without it the coldest headline case.

    Returns
    -------
    WishFront
        At most `MOST_POINTS` points, the cheapest build first; the last is the cheapest of those
        that go furthest, to a metre. It is complete when every build left out goes less than
        `FINEST_STEP_KM` further than a cheaper one told.

    Raises
    ------
    ChoiceError
        If the case is unknown or a mark cannot be understood.
    """
    case = _case(compiled, case_id)
    plain = build.model_copy(update={"wishes": ()})
    faults = wish_faults(compiled, plain)
    if faults:
        raise ChoiceError(faults)
    search = _FrontSearch(wish_engine(compiled, plain), case)
    points, complete = search.run()
    return WishFront(
        case_id=case.id,
        case_label=case.label,
        is_complete=complete,
        points=tuple(
            FrontPoint(
                price_gbp=pounds(point.price_pence),
                range_km=point.range_km,
                choices=point.choices,
                label=_label(compiled, points, number),
            )
            for number, point in enumerate(points)
        ),
    )


def _case(compiled: Compiled, case_id: str | None) -> DrivingCase:
    if case_id is None:
        return harder_headline_case(compiled.catalog)
    cases = {case.id: case for case in compiled.catalog.driving_cases}
    if case_id not in cases:
        what = f'"{case_id[:60]}" is no driving case of the catalog; a range needs one'
        raise ChoiceError([Fault("S007", "front", what, did_you_mean(case_id, cases))])
    return cases[case_id]


@dataclass(frozen=True)
class _FrontSearch:
    """The cheapest build from some range on, asked again and again."""

    wishing: WishEngine
    case: DrivingCase

    def run(self) -> tuple[list[_Point], bool]:
        """Find both ends, spread points between them, then look into the widest gaps."""
        ends = self._ends()
        if len(ends) < 2:
            return ends, True
        span_km = ends[1].range_km - ends[0].range_km
        step_km = max(FINEST_STEP_KM, span_km / (MOST_POINTS - 1))
        points = self._spread_between(ends[0], ends[1], step_km)
        settled = {points[-1].price_pence}
        if step_km <= FINEST_STEP_KM:
            settled |= {point.price_pence for point in points[:-2]}
        return self._with_gaps_filled(points, settled)

    def _ends(self) -> list[_Point]:
        """Find the cheapest build and the cheapest of those that go furthest; maybe one build."""
        cheapest, furthest_km = self._cheapest_from(0.0), self._furthest_km()
        if cheapest is None or furthest_km is None:
            return []
        furthest = self._cheapest_from(max(0.0, furthest_km - HAIR))
        if furthest is None:
            message = f"no build goes {furthest_km} km, which was found to be the furthest."
            raise ValueError(message)
        found = (cheapest,) if cheapest[0] == furthest[0] else (cheapest, furthest)
        return [self._told(*build) for build in found]

    def _spread_between(self, first: _Point, last: _Point, step_km: float) -> list[_Point]:
        """Go from the first to the last by steps; the last has its place, whatever lies before."""
        points = [first]
        while len(points) < MOST_POINTS - 1:
            found = self._cheapest_from(points[-1].range_km + step_km)
            if found is None or found[0] >= last.price_pence:
                break
            points.append(self._told(*found))
        return [*points, last]

    def _with_gaps_filled(
        self, points: list[_Point], settled: set[int]
    ) -> tuple[list[_Point], bool]:
        """Ask what lies right after each point, the widest gap first, while there is room."""
        while unsettled := [p for p in points if p.price_pence not in settled]:
            before = max(unsettled, key=lambda point: _gap_km(points, point))
            settled.add(before.price_pence)
            found = self._cheapest_from(before.range_km + FINEST_STEP_KM)
            if found is not None and found[0] not in {point.price_pence for point in points}:
                if len(points) >= MOST_POINTS:
                    return points, False
                points = sorted([*points, self._told(*found)], key=lambda point: point.price_pence)
        return points, True

    def _cheapest_from(self, least_km: float) -> tuple[int, Mapping[str, str]] | None:
        asking = self.wishing.asking((), self._going(least_km))
        return asking.least(self.wishing.compiled.book.price, {})

    def _told(self, price_pence: int, cheapest: Mapping[str, str]) -> _Point:
        """Go on from a cheapest build to the furthest at its price, of these to the best."""
        price = self.wishing.compiled.book.price
        as_cheap = Bounds((ConditionalLimit("price", {}, price, price_pence),))
        furthest, range_km = cheapest, self._range_km(cheapest)
        while (further := self._lightest(as_cheap + self._going(range_km + HAIR))) is not None:
            furthest, range_km = further, self._range_km(further)
        best = self.wishing.best((), as_cheap + self._going(range_km - HAIR))
        return _Point(price_pence, range_km, best or self.wishing.choices(furthest))

    def _lightest(self, bounds: Bounds) -> Mapping[str, str] | None:
        """Find the lightest build, which is most often the furthest, so that few are asked for."""
        found = self.wishing.asking((), bounds).least(
            self.wishing.compiled.book.mass_of(self._fact), {}
        )
        return None if found is None else found[1]

    def _range_km(self, choices: Mapping[str, str]) -> float:
        value = self._fact.evaluate([self.wishing.compiled.book.state(self._fact, choices)])[0]
        return value or 0.0

    @cached_property
    def _fact(self) -> DriveFact:
        fact = self.wishing.compiled.book.drive_fact("range_low_km", self.case.id)
        if fact is None:
            message = f'case "{self.case.id}": it has no range; every driving case has one.'
            raise ValueError(message)
        return fact

    def _furthest_km(self) -> float | None:
        return best_reachable(self.wishing.asking(()), self.wishing.compiled.book, self._wish(0.0))

    def _going(self, least_km: float) -> Bounds:
        book = self.wishing.compiled.book
        return bounds_of(target_of(self._wish(least_km), ELSEWHERE, book))

    def _wish(self, least_km: float) -> Wish:
        return Wish(fact="range_low_km", case=self.case.id, at_least=least_km)


def _gap_km(points: Sequence[_Point], point: _Point) -> float:
    """Measure how far it is to the next point; the last is settled from the start."""
    return points[points.index(point) + 1].range_km - point.range_km


def _label(compiled: Compiled, points: Sequence[_Point], number: int) -> str:
    """Name what a point has that its cheaper neighbour has not; of the first, what the next has.

    Returns
    -------
    str
        At most three options, the dearest first.
    """
    beside = points[number - 1] if number else points[min(1, len(points) - 1)]
    options, choices = compiled.offer.option_by_pair, points[number].choices
    other = [
        options[group.id, choices[group.id]]
        for group in telling_groups(compiled)
        if len(points) == 1 or choices[group.id] != beside.choices[group.id]
    ]
    other.sort(key=lambda option: -compiled.basis.option_pence(option))
    return ", ".join(option.label for option in other[:3])
