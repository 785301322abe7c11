"""Whole talks on invented problems of a size, at each tightness of their limits, timed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from configurator.rules.engine import Engine
from configurator.rules.problem import Problem, Quantity
from configurator.rules.smallest_changes import smallest_changes
from tests.benchmarks.one_solve_per_option import Baseline
from tests.benchmarks.processor_times import Goal, Times, rows
from tests.rules.workshop_problems import (
    TIGHTNESS,
    chance,
    greatest,
    some_quantity,
    workshop_problem,
)

WAYS = 3
GAP = 1_000
REFUSALS_A_PICK = 2

FIRST = "first click"
FIRST_COMPILED = "first click, compiling included"
FIRST_AGAIN = "first click, once asked when read"
AFTER = "after a pick, swaps included"
REASON = "one minimal reason"
WAYS_OUT = f"{WAYS} ways out"
ALL_EXTREMES = "least and greatest of 4 sums, exact"
NEAR_EXTREMES = "least and greatest of 4 sums, gap 1/1000"
ONE_EXTREME = "one least or greatest, exact"
COMPLETION = "completion by preference and price"
IN_ORDER = (
    FIRST_COMPILED,
    FIRST,
    FIRST_AGAIN,
    AFTER,
    REASON,
    WAYS_OUT,
    ALL_EXTREMES,
    NEAR_EXTREMES,
    ONE_EXTREME,
    COMPLETION,
)


@dataclass(frozen=True)
class Size:
    """How large the problems are, and how much of them is asked."""

    groups: int
    options: int
    rules: int
    seeds: int
    first_baseline_every: int
    after_baseline_every: int
    """One in so many options is put to the baseline, which is counted as if all were."""
    picks_a_baseline: int
    picks_a_rest: int
    """After so many picks all but availability is asked."""
    goals: dict[str, Goal]


SIZES = {
    "workshop": Size(
        20,
        6,
        40,
        seeds=5,
        first_baseline_every=1,
        after_baseline_every=5,
        picks_a_baseline=7,
        picks_a_rest=1,
        goals={
            FIRST: Goal(median=30, ratio=100),
            FIRST_COMPILED: Goal(ratio=100),
            FIRST_AGAIN: Goal(median=30, ratio=100),
            AFTER: Goal(median=2, p95=30),
            REASON: Goal(p95=20),
            WAYS_OUT: Goal(p95=100),
            ALL_EXTREMES: Goal(p95=150),
            NEAR_EXTREMES: Goal(p95=150),
        },
    ),
    "large": Size(
        40,
        10,
        200,
        seeds=2,
        first_baseline_every=20,
        after_baseline_every=40,
        picks_a_baseline=20,
        picks_a_rest=4,
        goals={FIRST: Goal(median=50, p95=500), AFTER: Goal(median=50, p95=500)},
    ),
}


@dataclass
class Talk:
    """One problem, asked by two engines: one for availability alone, one for the rest."""

    problem: Problem
    price: Quantity
    seed: int
    size: Size
    times: Times
    baselines: Times = field(default_factory=Times)

    def run(self) -> None:
        baseline = Baseline(self.problem)
        engine = self._first_click(baseline)
        rest = Engine(self.problem)
        for number, picks in enumerate(self._picks(engine)):
            if number % self.size.picks_a_rest == 0:
                self._ask_the_rest(rest, baseline, picks, engine.availability(picks))
            if number % self.size.picks_a_baseline == self.size.picks_a_baseline // 2:
                plain = baseline.milliseconds(picks, self.size.after_baseline_every)
                self.baselines.add(AFTER, plain)

    def _first_click(self, baseline: Baseline) -> Engine:
        plain = baseline.milliseconds({}, self.size.first_baseline_every)
        for kind in (FIRST, FIRST_COMPILED, FIRST_AGAIN):
            self.baselines.add(kind, plain)
        self.times.of(FIRST_COMPILED, lambda: Engine(self.problem).availability({}))
        engine = Engine(self.problem)
        self.times.of(FIRST, lambda: engine.availability({}))
        self.times.of(FIRST_AGAIN, lambda: engine.availability({}))
        return engine

    def _picks(self, engine: Engine) -> Iterator[dict[str, str]]:
        """Yield the picks from none to all, each possible when it is made."""
        random = chance(self.seed)
        picks: dict[str, str] = {}
        offered = engine.availability(picks)
        yield dict(picks)
        for domain in random.sample(self.problem.domains, len(self.problem.domains)):
            picks[domain.id] = random.choice([o for o, yes in offered[domain.id].items() if yes])
            offered = self.times.of(AFTER, lambda: engine.availability(picks))
            yield dict(picks)

    def _ask_the_rest(
        self,
        engine: Engine,
        baseline: Baseline,
        picks: dict[str, str],
        offered: dict[str, dict[str, bool]],
    ) -> None:
        random = chance(self.seed + len(picks))
        out = [(g, o) for g, some in offered.items() for o, yes in some.items() if not yes]
        for wanted in random.sample(out, min(REFUSALS_A_PICK, len(out))):
            impossible = {**picks, wanted[0]: wanted[1]}
            self.times.of(REASON, lambda asked=impossible: engine.conflict(asked))
            self.times.of(WAYS_OUT, lambda asked=wanted: self._ways_out(engine, picks, asked))
        sums = [self.price, *(limit.quantity for limit in self.problem.conditional_limits)]
        asked = [(total, is_greatest) for total in sums for is_greatest in (False, True)]
        self._extremes(engine, picks, asked)
        plain = Times()
        plain.of(ONE_EXTREME, lambda: baseline.best(self.price, picks))
        self.baselines.add(ONE_EXTREME, plain.by_kind[ONE_EXTREME][0])
        preferred = {d.id: random.choice(d.options) for d in self.problem.domains}
        self.times.of(COMPLETION, lambda: engine.completion(picks, preferred, self.price))

    def _ways_out(self, engine: Engine, picks: dict[str, str], wanted: tuple[str, str]) -> object:
        return smallest_changes(engine, picks, wanted, (), self.price, enough=WAYS)

    def _extremes(
        self, engine: Engine, picks: dict[str, str], asked: list[tuple[Quantity, bool]]
    ) -> None:
        near = Times()
        for total, side in asked:
            gap = max(1, greatest(total, self.problem.domains) // GAP)
            near.of("", lambda t=total, s=side, g=gap: engine.reach(t, picks, greatest=s, gap=g))
        self.times.add(NEAR_EXTREMES, sum(near.by_kind[""]))
        exact = Times()
        for total, side in asked:
            exact.of("", lambda t=total, s=side: engine.extreme(t, picks, greatest=s))
        self.times.add(ALL_EXTREMES, sum(exact.by_kind[""]))
        for milliseconds in exact.by_kind[""]:
            self.times.add(ONE_EXTREME, milliseconds)


def report(name: str) -> Iterator[str]:
    """Yield the rows of each tightness as soon as they are known."""
    size = SIZES[name]
    for tightness in TIGHTNESS:
        times, baselines = Times(), Times()
        for seed in range(1, size.seeds + 1):
            problem = workshop_problem(seed, tightness, size.groups, size.options, size.rules)
            price = some_quantity(chance(1_000 + seed), problem.domains)
            Talk(problem, price, seed, size, times, baselines).run()
        in_order = Times({kind: times.by_kind[kind] for kind in IN_ORDER if kind in times.by_kind})
        yield from rows(f"{name}, {tightness}", in_order, size.goals, baselines.by_kind)
