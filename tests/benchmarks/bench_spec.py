"""Time choices → Spec and the availability of all options, on a catalog folder.

Run with `python -m tests.benchmarks.bench_spec [--catalog DIR]`.
"""

import argparse
import os
import random
import statistics
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import outline, specify, stand
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from configurator.catalog.models.catalog import Catalog


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - start)


def talk(catalog: Catalog, vehicle: str, seed: int) -> list[dict[str, str]]:
    """Choose one possible option after another, as a customer would."""
    chance = random.Random(seed)
    engines, picks, steps = Engines(), {}, [{}]
    while True:
        groups = stand(catalog, build_of(vehicle, picks), engines)
        left = [g for g in groups if g.group_id not in picks and g.origin is None]
        if not left:
            return steps
        group = chance.choice(left)
        option = chance.choice([o for o in group.options if o.is_available])
        picks = {**picks, group.group_id: option.option_id}
        steps.append(picks)


def build_of(vehicle: str, choices: dict[str, str], *, house: bool = False) -> BuildInput:
    return BuildInput(
        reference="B-0001",
        customer=Customer(name="A sample customer"),
        vehicle=vehicle,
        priced_on=date(2026, 11, 25),
        choices=choices,
        house_choices_for_the_rest=house,
    )


def row(name: str, times: list[float]) -> str:
    times = sorted(times)
    p95 = times[min(len(times) - 1, int(0.95 * len(times)))]
    return f"{name:58} {statistics.median(times):9.1f} {p95:9.1f} {times[-1]:9.1f}"


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--catalog", type=Path, default=Path("catalog"))
    folder = parser.parse_args().catalog
    print(f"{os.cpu_count()} cores; milliseconds{'':30} {'median':>9} {'p95':>9} {'worst':>9}")
    print(row("catalog read", [timed(lambda: load_catalog(folder)) for _ in range(3)]))
    catalog = load_catalog(folder)
    for vehicle in (v.id for v in catalog.vehicles):
        cold = build_of(vehicle, {})
        engines = Engines()
        first_options = timed(lambda e=engines, b=cold: stand(catalog, b, e))
        first_figures = timed(lambda e=engines, b=cold: outline(catalog, b, e))
        print(row(f"{vehicle}: all options, nothing chosen, cold", [first_options]))
        print(row(f"{vehicle}: figures, nothing chosen, cold", [first_figures]))
        options, figures, whole = [], [], []
        for picks in talk(catalog, vehicle, seed=1)[1:]:
            build = build_of(vehicle, picks)
            options.append(timed(lambda b=build, e=engines: stand(catalog, b, e)))
            figures.append(timed(lambda b=build, e=engines: outline(catalog, b, e)))
        for _ in range(5):
            house = build_of(vehicle, {}, house=True)
            whole.append(timed(lambda b=house, e=engines: specify(catalog, b, e)))
        print(row(f"{vehicle}: all options after a pick", options))
        print(row(f"{vehicle}: figures after a pick", figures))
        print(row(f"{vehicle}: complete choices to Spec", whole))


if __name__ == "__main__":
    main()
