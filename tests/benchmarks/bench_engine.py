"""Times of the engine's answers on invented problems of the size of a workshop's catalog.

Run it as a script. Each row is one kind of question on one tightness of limits, in milliseconds
of the processor, so that other work on the machine hardly matters. The last column compares
availability with one solver question for each option, measured in the same run.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from itertools import product
from random import Random
from statistics import median
from time import process_time
from typing import TypeVar

from configurator.rules.propagation import narrowed
from configurator.rules.solving import solved

from configurator.rules.compiling import compiled_rules
from configurator.rules.engine import Engine
from configurator.rules.options import bits_of, option_bits
from configurator.rules.problem import (
    ConditionalLimit,
    Domain,
    Implication,
    Problem,
    Quantity,
    QuantityLimit,
)

GROUPS = 20
OPTIONS = 5
IMPLICATIONS = 45
PLAIN_LIMITS = 6
TABLE_LIMITS = 6
CONDITIONAL_LIMITS = 4
REGIONS = 25
SHARE_OF_SPREAD = {"loose": 0.6, "medium": 0.4, "tight": 0.25}

Answer = TypeVar("Answer")


def invented_problem(seed: int, share: float) -> tuple[Problem, Quantity]:
    """Invent a problem around a hidden light build that keeps every rule, and a price."""
    random = Random(seed)
    domains = tuple(
        Domain(f"group-{at:02}", tuple(f"option-{number}" for number in range(OPTIONS)))
        for at in range(GROUPS)
    )
    masses = {
        (domain.id, option): random.randrange(0, 60_000)
        for domain in domains
        for option in domain.options
    }
    hidden = {
        domain.id: min(
            random.sample(domain.options, 3), key=lambda option, of=domain.id: masses[of, option]
        )
        for domain in domains
    }
    places = {domain.id: random.randrange(200, 2_400) for domain in domains}
    problem = Problem(
        domains,
        tuple(_implications(random, domains, hidden)),
        tuple(_limits(random, domains, masses, places, hidden, share)),
        tuple(_conditional_limits(random, domains, masses, hidden, share)),
    )
    price = Quantity(
        1_000_000, {pair: random.randrange(0, 400_000) - 2 * mass for pair, mass in masses.items()}
    )
    return problem, price


def _implications(random: Random, domains: tuple[Domain, ...], hidden: dict[str, str]):
    made = 0
    while made < IMPLICATIONS:
        first, second, third = random.sample(domains, 3)
        kind = random.choice(["excludes", "only with", "three-way"])
        when = {first.id: frozenset(random.sample(first.options, 1))}
        keeps = 2 if kind == "only with" else OPTIONS - 1
        if kind == "three-way":
            when[second.id] = frozenset(random.sample(second.options, 2))
        then = {third.id: frozenset(random.sample(third.options, keeps))}
        applies = all(hidden[group] in options for group, options in when.items())
        if not applies or hidden[third.id] in then[third.id]:
            yield Implication(f"rule-{made}", when, then)
            made += 1


def _limits(random, domains, masses, places, hidden, share):
    for at in range(PLAIN_LIMITS):
        moments = {
            pair: mass * (places[pair[0]] if at % 2 else 2_600 - places[pair[0]])
            if at % 3
            else mass
            for pair, mass in masses.items()
            if random.random() < 0.9
        }
        quantity = Quantity(900_000, moments)
        yield QuantityLimit(
            f"limit-{at}", quantity, (), {(): _bound(quantity, domains, hidden, share)}
        )
    for at in range(TABLE_LIMITS):
        quantity = Quantity(900_000, masses)
        middle = _bound(quantity, domains, hidden, share * 1.3)
        groups = random.sample(domains, 7)
        classes = tuple(
            (
                domain.id,
                {
                    option: number % (2 if turn > 4 else 3)
                    for number, option in enumerate(domain.options)
                },
            )
            for turn, domain in enumerate(groups)
        )
        slopes = [random.randrange(0, 40_000) for _ in groups]
        bounds: dict[tuple[int, ...], int | None] = {
            key: middle
            - sum(slope * number for slope, number in zip(slopes, key, strict=True))
            + random.randrange(0, 5_000)
            for key in product(*(range(2 if turn > 4 else 3) for turn in range(len(groups))))
            if random.random() < 0.97
        }
        of_hidden = tuple(numbers[hidden[group]] for group, numbers in classes)
        bounds[of_hidden] = max(bounds.get(of_hidden) or 0, quantity.of(hidden))
        yield QuantityLimit(f"table-{at}", quantity, classes, bounds)


def _conditional_limits(random, domains, masses, hidden, share):
    quantity = Quantity(900_000, masses)
    for at in range(CONDITIONAL_LIMITS):
        groups = random.sample(domains, 4)
        for _ in range(REGIONS):
            when = {
                domain.id: frozenset(random.sample(domain.options, random.choice([1, 2])))
                for domain in groups[: random.choice([2, 3, 4])]
            }
            least = quantity.of(hidden)
            bound = max(least, _bound(quantity, domains, hidden, share * random.uniform(0.7, 1.2)))
            yield ConditionalLimit(f"region-{at}", when, quantity, bound)


def _bound(quantity, domains, hidden, share) -> int:
    weights = [[quantity.weights.get((d.id, option), 0) for option in d.options] for d in domains]
    least, most = sum(map(min, weights)), sum(map(max, weights))
    return max(quantity.of(hidden), quantity.constant + least + int(share * (most - least)))


class Times:
    """Milliseconds by kind of question."""

    def __init__(self) -> None:
        self.by_kind: dict[str, list[float]] = {}

    def of(self, kind: str, ask: Callable[[], Answer]) -> Answer:
        """Time one question."""
        start = process_time()
        answer = ask()
        self.by_kind.setdefault(kind, []).append(1000 * (process_time() - start))
        return answer


def talk(problem: Problem, price: Quantity, seed: int, times: Times) -> None:
    """Go through a whole talk: pick what is possible, ask why not, ask for extremes."""
    random = Random(seed)
    engine = times.of("compile", lambda: Engine(problem))
    picks: dict[str, str] = {}
    offered = times.of("first availability", lambda: engine.availability(picks))
    for domain in random.sample(problem.domains, len(problem.domains)):
        _explain(engine, picks, offered, price, random, times)
        times.of("minimise", lambda: engine.minimise(price, picks))
        times.of("maximise", lambda: engine.maximise(price, picks))
        times.of("completion", lambda: engine.completion(picks, first_options, price))
        picks[domain.id] = random.choice([o for o, yes in offered[domain.id].items() if yes])
        offered = times.of("availability after a pick", lambda: engine.availability(picks))


def _explain(engine, picks, offered, price, random, times) -> None:
    out = [
        (group, o) for group, options in offered.items() for o, yes in options.items() if not yes
    ]
    for group, option in random.sample(out, min(3, len(out))):
        impossible = picks | {group: option}
        times.of("conflict", lambda impossible=impossible: engine.conflict(impossible))
        keep = (group, option)
        times.of("smallest change", lambda keep=keep: engine.smallest_change(picks, keep, price))


first_options = {f"group-{at:02}": "option-0" for at in range(GROUPS)}


def one_question_for_each_option(problem: Problem) -> None:
    """Answer the first availability the plain way."""
    names = option_bits(problem.domains)
    rules = compiled_rules(problem, names)
    root = narrowed(rules, names.everything)
    for bit in bits_of(root & ~1):
        domain = names.within(root, bit)
        solved(rules, narrowed(rules, domain, root ^ domain, len(rules.every)))


def report(tightness: str, times: Times, plain_ms: float) -> str:
    """Lay out one tightness as rows of a table."""
    rows = []
    for kind, values in times.by_kind.items():
        ordered = sorted(values)
        at_95 = ordered[min(len(ordered) - 1, int(0.95 * len(ordered)))]
        ratio = f"{plain_ms / median(values):8.0f}x" if "availability" in kind else ""
        rows.append(
            f"{tightness:8}{kind:28}{len(values):6}{median(values):10.1f}{at_95:10.1f}"
            f"{ordered[-1]:10.1f}{ratio:>10}\n"
        )
    return "".join(rows)


def main() -> None:
    """Time every tightness."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--problems", type=int, default=4, help="problems for each tightness")
    wanted = parser.parse_args()
    sys.stdout.write(
        f"{'limits':8}{'question':28}{'asked':>6}{'median ms':>10}{'95 % ms':>10}{'worst ms':>10}"
        f"{'to plain':>10}\n"
    )
    for tightness, share in SHARE_OF_SPREAD.items():
        times, plain = Times(), Times()
        for seed in range(wanted.problems):
            problem, price = invented_problem(seed, share)
            talk(problem, price, seed, times)
            if not seed:
                plain.of("plain", lambda of=problem: one_question_for_each_option(of))
        sys.stdout.write(report(tightness, times, plain.by_kind["plain"][0]))
        sys.stdout.flush()


if __name__ == "__main__":
    main()
