"""Whole talks about each vehicle of a catalog folder, timed as the app asks its questions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from pathlib import Path

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.engines import Engines
from configurator.build_spec.explanations import explain_option
from configurator.build_spec.pipeline import outline, price_alone, specify, stand
from configurator.build_spec.reasons import reason_against, reason_for_following
from configurator.build_spec.settle import settle
from configurator.build_spec.standing import GroupState
from configurator.build_spec.ways_out import ways_out
from configurator.build_spec.wish_pipeline import price_range_front, wished
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer, Wish
from configurator.catalog.models.catalog import Catalog
from tests.benchmarks.one_solve_per_option import Baseline
from tests.benchmarks.processor_times import Goal, Times, rows
from tests.rules.workshop_problems import chance

TALKS = 2
REFUSALS_A_PICK = 2
WISHES_EVERY = 4
BASELINE_EVERY = 6

COMPILING = "compiling"
FIRST = "first click, compiled, nothing asked"
WARMING = "what the app computes when it reads the catalog"
FIRST_AGAIN = "first click, once asked when read"
STANDING_FIRST = "all tiles, nothing chosen, once asked when read"
AFTER = "after a pick, swaps included"
STANDING = "all tiles, after a pick"
PRICE = "price alone, after a pick"
OUTLINE = "intervals in the talk, after a pick"
SPECIFY = "intervals of all facts, after a pick"
OUTLINE_FIRST = "intervals in the talk, nothing chosen, first"
SPECIFY_FIRST = "intervals of all facts, nothing chosen, first"
REASON = "one minimal reason"
FOLLOWING = "one reason for following"
WAYS_OUT = "ways out with differences"
EXPLAINED = "an option explained: reason and ways out"
FRONT = "front of price against range, first"
GOALS = {
    FIRST: Goal(median=30, ratio=100),
    FIRST_AGAIN: Goal(median=30, ratio=100),
    AFTER: Goal(median=2, p95=30),
    OUTLINE: Goal(p95=150),
    SPECIFY: Goal(p95=150),
    OUTLINE_FIRST: Goal(p95=150),
    SPECIFY_FIRST: Goal(p95=150),
    REASON: Goal(p95=20),
    FOLLOWING: Goal(p95=20),
    WAYS_OUT: Goal(p95=100),
}
FIRST_ANSWER = Goal(p95=500)


@dataclass
class VehicleTalks:
    """All questions about one vehicle."""

    catalog: Catalog
    vehicle: str
    times: Times = field(default_factory=Times)
    baselines: Times = field(default_factory=Times)

    def run(self) -> None:
        self._open()
        for seed in range(1, TALKS + 1):
            self._talk(seed)
        self._wishes()

    def _open(self) -> None:
        """Measure the first questions, in the order in which a start asks them."""
        nobody, times = self._build({}), self.times
        engines = Engines()
        compiled = times.of(COMPILING, lambda: engines.compiled(self.catalog, nobody))
        times.of(FIRST, lambda: compiled.engine.availability({}))
        plain = Baseline(compiled.engine.problem).milliseconds({})
        for kind in (FIRST, FIRST_AGAIN):
            self.baselines.add(kind, plain)
        warm = Engines()
        times.of(WARMING, lambda: self._warm(warm, nobody))
        asked = warm.compiled(self.catalog, nobody).engine
        times.of(FIRST_AGAIN, lambda: asked.availability({}))
        times.of(STANDING_FIRST, lambda: stand(self.catalog, nobody, warm))
        times.of(OUTLINE_FIRST, lambda: outline(self.catalog, nobody, engines))
        times.of(SPECIFY_FIRST, lambda: specify(self.catalog, nobody, engines))

    def _warm(self, engines: Engines, nobody: BuildInput) -> None:
        stand(self.catalog, nobody, engines)
        outline(self.catalog, nobody, engines)

    def _talk(self, seed: int) -> None:
        """Choose one possible option after another, and ask about some that are out."""
        random = chance(seed)
        engines = Engines()
        self._warm(engines, self._build({}))
        compiled = engines.compiled(self.catalog, self._build({}))
        alone = Engines().compiled(self.catalog, self._build({})).engine
        alone.availability({})
        picks: dict[str, str] = {}
        groups = stand(self.catalog, self._build({}), engines)
        while left := [g for g in groups if g.group_id not in picks and g.origin is None]:
            group = random.choice(left)
            option = random.choice([o for o in group.options if o.is_available])
            picks[group.group_id] = option.option_id
            build = self._build(picks)
            self.times.of(AFTER, lambda p=dict(picks): alone.availability(p))
            groups = self.times.of(STANDING, lambda b=build: stand(self.catalog, b, engines))
            self.times.of(PRICE, lambda b=build: price_alone(self.catalog, b, engines))
            self.times.of(OUTLINE, lambda b=build: outline(self.catalog, b, engines))
            self._explain(seed, compiled, build, groups)
            explained = self._one_out(seed, groups)
            if explained is not None:
                ask = (self.catalog, build, engines, *explained)
                self.times.of(EXPLAINED, lambda a=ask: explain_option(*a))
            self.times.of(SPECIFY, lambda b=build: specify(self.catalog, b, engines))
            if len(picks) % BASELINE_EVERY == 2 and seed == 1:
                baseline = Baseline(compiled.engine.problem)
                self.baselines.add(AFTER, baseline.milliseconds(picks, 4))

    def _explain(
        self, seed: int, compiled: Compiled, build: BuildInput, groups: tuple[GroupState, ...]
    ) -> None:
        random = chance(seed + len(build.choices))
        settled = settle(compiled, build)
        out = _out(groups)
        for pair in random.sample(out, min(REFUSALS_A_PICK, len(out))):
            self.times.of(REASON, lambda p=pair: reason_against(compiled, settled, *p))
            self.times.of(WAYS_OUT, lambda p=pair: ways_out(compiled, settled, *p))
        for group in random.sample(list(settled.follows), min(1, len(settled.follows))):
            self.times.of(FOLLOWING, lambda g=group: reason_for_following(compiled, settled, g))

    @staticmethod
    def _one_out(seed: int, groups: tuple[GroupState, ...]) -> tuple[str, str] | None:
        out = _out(groups)
        return chance(seed).choice(out) if out else None

    def _wishes(self) -> None:
        """Ask as the screen does: the front, and each set of wishes by a customer of its own."""
        plain = self._build({})
        for name, wishes in self._wishes_between(0.5).items():
            engines = Engines()
            self._warm(engines, plain)
            build = plain.model_copy(update={"wishes": wishes})
            kind = f"wishes: {name}, first"
            self.times.of(kind, lambda b=build, e=engines: wished(self.catalog, b, e))
            again = f"wishes: {name}, again"
            self.times.of(again, lambda b=build, e=engines: wished(self.catalog, b, e))
        engines = Engines()
        self._warm(engines, plain)
        self.times.of(FRONT, lambda: price_range_front(self.catalog, plain, engines))

    def _wishes_between(self, share: float) -> dict[str, tuple[Wish, ...]]:
        """Make wishes from the front: both can be met, one must give way, two must."""
        front = price_range_front(self.catalog, self._build({}), Engines())
        first, last = front.points[0], front.points[-1]
        price = float(first.price_gbp + (last.price_gbp - first.price_gbp) * Decimal(str(share)))
        far = first.range_km + share * (last.range_km - first.range_km)
        cheap = Wish(fact="price_gbp", at_most=price)
        near = Wish(fact="range_low_km", case=front.case_id, at_least=far / 2)
        further = Wish(fact="range_low_km", case=front.case_id, at_least=last.range_km)
        soon = Wish(fact="handover_weeks", at_most=1)
        return {
            "none": (),
            "two, met": (near, cheap),
            "two, one gives way": (further, cheap),
            "three, two give way": (further, cheap, soon),
        }

    def _build(self, picks: dict[str, str]) -> BuildInput:
        return BuildInput(
            reference="B-0001",
            customer=Customer(name="A sample customer"),
            vehicle=self.vehicle,
            priced_on=date(2026, 11, 25),
            choices=dict(picks),
        )


def _out(groups: tuple[GroupState, ...]) -> list[tuple[str, str]]:
    return [(g.group_id, o.option_id) for g in groups for o in g.options if not o.is_available]


def report(folder: Path) -> Iterator[str]:
    """Yield the rows of each vehicle as soon as they are known."""
    catalog = load_catalog(folder)
    for vehicle in catalog.vehicles:
        talks = VehicleTalks(catalog, vehicle.id)
        talks.run()
        first = {kind: FIRST_ANSWER for kind in talks.times.by_kind if kind.startswith("wishes")}
        yield from rows(vehicle.id, talks.times, {**GOALS, **first}, talks.baselines.by_kind)
