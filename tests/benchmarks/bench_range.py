"""Time range bands by the number of vehicles asked about at once.

Run with `python -m tests.benchmarks.bench_range`.
"""

import time
from collections.abc import Callable

from configurator.physics.range_band import range_bands
from configurator.physics.road_vehicle import Trip
from tests.physics.road_vehicles import cycle_trip, road_vehicle

TRIPS = {
    "WLTC class 1": cycle_trip("wltc-class-1", -5.0),
    "WLTC class 3b": cycle_trip("wltc-class-3b", -5.0),
    "steady 90 km/h": Trip(steady_m_s=25.0, temperature_c=-5.0),
}


def microseconds(work: Callable[[], object], repeats: int = 41) -> list[float]:
    times = []
    for _ in range(repeats):
        start = time.thread_time()
        work()
        times.append(1e6 * (time.thread_time() - start))
    return sorted(times)


def main() -> None:
    start = time.perf_counter()
    range_bands([road_vehicle()], TRIPS["steady 90 km/h"])
    print(f"first call, compiled or loaded: {time.perf_counter() - start:.2f} s")
    print(f"{'microseconds':18} {'vehicles':>9} {'low fifth':>10} {'median':>9} {'each':>9}")
    for name, trip in TRIPS.items():
        for count in (1, 10, 100):
            vehicles = [road_vehicle(mass_kg=1500.0 + 7 * number) for number in range(count)]
            times = microseconds(lambda vehicles=vehicles, trip=trip: range_bands(vehicles, trip))
            low, median = times[len(times) // 5], times[len(times) // 2]
            print(f"{name:18} {count:9} {low:10.0f} {median:9.0f} {low / count:9.1f}")


if __name__ == "__main__":
    main()
