"""Time range bands: alone, of a whole build, of many candidates, beside plainer ways; watch memory.

Run with `python -m tests.benchmarks.bench_range [--catalog DIR]`. Times are of one processor; other
work on the machine adds to them.
"""

import argparse
import gc
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.range_section import aged_band
from configurator.catalog.load import load_catalog
from configurator.physics.achieved_speed import drive_trip
from configurator.physics.range_band import range_bands
from configurator.physics.road_vehicle import Trip
from tests.benchmarks.bench_spec import build_of
from tests.build_spec.tiny_builds import compiled_of
from tests.physics.plain_model import plain_wh_per_km
from tests.physics.road_vehicles import cycle_trip, road_vehicle
from tests.reference.fastsim_runs import as_ours, electric_files, simulation

FAST = cycle_trip("wltc-class-3b", -5.0)
TRIPS = {
    "WLTC class 1": cycle_trip("wltc-class-1", -5.0),
    "WLTC class 3b": FAST,
    "steady 90 km/h": Trip(steady_m_s=25.0, temperature_c=-5.0),
}
ROADS_AND_SEASONS = 6
"""The first driving cases of the demo: town, country and motorway, in summer and winter."""
CANDIDATES = 500
EVALUATIONS = 10_000
GOAL_FULL_BAND_MS = 5.0
GOAL_CANDIDATES_MS = 25.0


def microseconds(work: Callable[[], object], repeats: int = 41) -> list[float]:
    times = []
    for _ in range(repeats):
        start = time.thread_time()
        work()
        times.append(1e6 * (time.thread_time() - start))
    return sorted(times)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--catalog", type=Path, default=Path("catalog"))
    folder = parser.parse_args().catalog
    start = time.perf_counter()
    range_bands([road_vehicle()], TRIPS["steady 90 km/h"])
    print(f"first call, compiled or loaded: {time.perf_counter() - start:.2f} s")
    by_number()
    whole_build(folder)
    many_candidates()
    beside_plainer_ways()
    memory()


def by_number() -> None:
    print(f"\n{'microseconds':18} {'vehicles':>9} {'low fifth':>10} {'median':>9} {'each':>9}")
    for name, trip in TRIPS.items():
        for count in (1, 10, 100):
            vehicles = [road_vehicle(mass_kg=1500.0 + 7 * number) for number in range(count)]
            times = microseconds(lambda vehicles=vehicles, trip=trip: range_bands(vehicles, trip))
            low, middle = times[len(times) // 5], times[len(times) // 2]
            print(f"{name:18} {count:9} {low:10.0f} {middle:9.0f} {low / count:9.1f}")


def goal(name: str, times_us: list[float], most_ms: float) -> str:
    """Say a median beside its goal, with an exclamation mark where it is missed."""
    middle = median(times_us) / 1000
    mark = "" if middle <= most_ms else "!"
    worst = times_us[-1] / 1000
    return f"{name:58} {middle:7.2f} ms, worst {worst:7.2f} ms  ≤ {most_ms:g} ms{mark}"


def whole_build(folder: Path) -> None:
    """Work out the bands of a complete build, from its choices on: new and aged."""
    catalog = load_catalog(folder)
    vehicle = catalog.vehicles[0].id
    spec = specify(catalog, build_of(vehicle, {}, house=True), Engines())
    choices = {line.group_id: line.option_id for line in spec.choices}
    compiled = compiled_of(catalog, vehicle)
    cases = [
        case.model_copy(update={"battery": age})
        for case in catalog.driving_cases[:ROADS_AND_SEASONS]
        for age in ("new", "aged")
    ]

    def bands() -> None:
        for case in cases:
            assert aged_band(compiled, case, choices)

    bands()
    print(
        "\n"
        + goal("six road and season cases, new and aged", microseconds(bands), GOAL_FULL_BAND_MS)
    )


def many_candidates() -> None:
    vehicles = [road_vehicle(mass_kg=1500.0 + number) for number in range(CANDIDATES)]
    times = microseconds(lambda: range_bands(vehicles, FAST))
    print(goal(f"{CANDIDATES} candidates over WLTC 3b, one core", times, GOAL_CANDIDATES_MS))


def beside_plainer_ways() -> None:
    """Compare one vehicle on the WLTC 3b with a plain loop and, on a file of its own, FASTSim."""
    vehicle = road_vehicle()
    band = median(microseconds(lambda: range_bands([vehicle], FAST)))
    plain = median(microseconds(lambda: plain_wh_per_km(vehicle, FAST), 9))
    file = electric_files()[-1]
    theirs, convention = as_ours(file)
    forward = median(microseconds(lambda: drive_trip(theirs, FAST, convention)))
    prepared = [simulation(file, FAST.speed_m_s, keeps_history=False) for _ in range(9)]
    reference = median(microseconds(lambda: prepared.pop().run(), 9))
    print("\none vehicle on the WLTC 3b, median microseconds")
    print(f"{'band with its doubts, facing backward':58} {band:10.0f}")
    print(f"{'consumption in a plain loop of every second':58} {plain:10.0f} {plain / band:7.0f} x")
    print(f"{'forward in time in the reference convention':58} {forward:10.0f}")
    print(
        f"{'FASTSim, the same without its history':58} {reference:10.0f} {reference / band:7.0f} x"
    )


def memory() -> None:
    """Say how much is held after many evaluations more than before, once all is warm."""
    vehicle = road_vehicle()
    trips = [cycle_trip("wltc-class-1", float(outside)) for outside in range(-10, 30)]

    def evaluate(count: int) -> None:
        for number in range(count):
            heavier = replace(vehicle, mass_kg=1500.0 + number)
            range_bands([heavier], trips[number % len(trips)])
            if number % 10 == 0:
                drive_trip(heavier, trips[number % len(trips)])

    evaluate(500)
    gc.collect()
    tracemalloc.start()
    resident_before, traced_before = resident_kib(), tracemalloc.get_traced_memory()[0]
    evaluate(EVALUATIONS)
    gc.collect()
    traced = (tracemalloc.get_traced_memory()[0] - traced_before) / 1024
    tracemalloc.stop()
    print(
        f"\nafter {EVALUATIONS} evaluations more is held: {traced:.0f} KiB by Python, "
        f"{resident_kib() - resident_before} KiB resident"
    )


def resident_kib() -> int:
    """Read the resident memory of this process; 0 where the system does not tell it so."""
    status = Path("/proc/self/status")
    if not status.exists():
        return 0
    line = next(line for line in status.read_text().splitlines() if line.startswith("VmRSS"))
    return int(line.split()[1])


if __name__ == "__main__":
    main()
