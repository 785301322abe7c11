"""Time the answer to wishes and the front of price against range, on a catalog folder.

Processor time: the first time for a vehicle, compiled and nothing asked yet, and the median after.

Run with `python -m tests.benchmarks.bench_wishes [--catalog DIR]`.
"""

import argparse
import statistics
import time
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

from configurator.build_spec.engines import Engines
from configurator.build_spec.wish_pipeline import price_range_front, wished
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer, Wish
from configurator.catalog.models.catalog import Catalog

REPEATS = 5


def timed(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return 1000 * (time.process_time() - start)


def wishes_between(
    catalog: Catalog, build: BuildInput, share: float
) -> dict[str, tuple[Wish, ...]]:
    """Make wishes from the front: both can be met, one must give way, two must."""
    front = price_range_front(catalog, build, Engines())
    first, last = front.points[0], front.points[-1]
    price = float(first.price_gbp + (last.price_gbp - first.price_gbp) * Decimal(str(share)))
    far = first.range_km + share * (last.range_km - first.range_km)
    cheap = Wish(fact="price_gbp", at_most=price)
    near = Wish(fact="range_low_km", case=front.case_id, at_least=far / 2)
    further = Wish(fact="range_low_km", case=front.case_id, at_least=last.range_km)
    soon = Wish(fact="handover_weeks", at_most=1)
    return {
        "no wish": (),
        "two wishes, met": (near, cheap),
        "two wishes, one gives way": (further, cheap),
        "three wishes, two give way": (further, cheap, soon),
    }


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--catalog", type=Path, default=Path("catalog"))
    catalog = load_catalog(arguments.parse_args().catalog)
    print(f"{'processor time [ms]':60} {'first':>8} {'median':>8}")
    for vehicle in catalog.vehicles:
        plain = BuildInput(
            reference="B-0001",
            customer=Customer(name="A sample customer"),
            vehicle=vehicle.id,
            priced_on=date(2026, 11, 25),
        )
        for name, wishes in wishes_between(catalog, plain, 0.5).items():
            build = plain.model_copy(update={"wishes": wishes})
            report(catalog, f"{vehicle.id}: {name}", build, wished)
        report(catalog, f"{vehicle.id}: front", plain, price_range_front)


def report(
    catalog: Catalog,
    name: str,
    build: BuildInput,
    ask: Callable[[Catalog, BuildInput, Engines], object],
) -> None:
    engines = Engines()
    engines.compiled(catalog, build)
    times = [timed(lambda: ask(catalog, build, engines)) for _ in range(REPEATS)]
    print(f"{name:60} {times[0]:8.0f} {statistics.median(times[1:]):8.0f}")


if __name__ == "__main__":
    main()
