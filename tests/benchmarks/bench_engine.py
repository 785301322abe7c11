"""Times of the engine's answers beside their goals, in milliseconds of the processor.

Each row is one kind of question. The baseline is the same answer from one solver question for each
option, tuned and over one model, measured in the same run; the ratio is between the medians. Where
it was asked of a part of the options only, it is counted as if for all. A figure that misses its
goal bears an exclamation mark.

Run with `python -m tests.benchmarks.bench_engine [--size workshop|large|demo]`.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from configurator.rules.engine import Engine
from tests.benchmarks import demo_talks, invented_talks
from tests.benchmarks.processor_times import HEADING, Times, rows
from tests.rules.workshop_problems import chance, some_quantity, workshop_problem


def main() -> int:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    sizes = [*invented_talks.SIZES, "demo"]
    parser.add_argument("--size", choices=sizes, help="one part of the table alone")
    parser.add_argument("--catalog", type=Path, default=Path("catalog"), help="for --size demo")
    wanted = parser.parse_args()
    sys.stdout.write(f"{os.cpu_count()} cores\n{HEADING}\n")
    _write(_loading_of_loops())
    for size in [wanted.size] if wanted.size else sizes:
        if size == "demo":
            _write(demo_talks.report(wanted.catalog))
        else:
            _write(invented_talks.report(size))
    return 0


def _loading_of_loops() -> Iterator[str]:
    """Load the compiled loops, once for a process, so that no question below waits for it."""
    times = Times()
    problem = workshop_problem(0, "tight")
    engine = Engine(problem)
    price = some_quantity(chance(0), problem.domains)
    times.of("compiled loops read from disk or made", lambda: engine.availability({}))
    engine.extreme(price, {})
    engine.least_peak([price, price], {})
    yield from rows("once for a process", times, {}, {})


def _write(lines: Iterator[str]) -> None:
    for line in lines:
        sys.stdout.write(line + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
