"""Print the road load beside FASTSim: its files, numbered, by cycle, as a table for a note.

Run with `python -m tests.benchmarks.reference_table`.
"""

from configurator.physics.achieved_speed import drive_trip
from tests.physics.road_vehicles import cycle_trip
from tests.reference.fastsim_runs import as_ours, electric_files, run
from tests.reference.test_fastsim_cycles import CYCLES, WEAKENED, weakened


def row(number, cycle, share=None):
    trip = cycle_trip(cycle, 22.0)
    file = electric_files()[number - 1]
    if share is not None:
        file = weakened(file, cycle, share)
    vehicle, convention = as_ours(file)
    theirs = run(file, trip.speed_m_s, may_lag=share is not None)
    ours = drive_trip(vehicle, trip, convention)
    per_km = 1 / 3.6 / theirs.distance_m
    errors = [
        100 * (ours.terminal_j / theirs.terminal_j - 1),
        100 * (ours.cell_j / theirs.cell_j - 1),
    ]
    cells = [
        str(number),
        cycle,
        "all" if share is None else f"{share:.0%} of the peak asked",
        f"{ours.seconds_behind:.0f}",
        f"{theirs.terminal_j * per_km:.2f} / {theirs.cell_j * per_km:.2f}",
        f"{ours.terminal_j * per_km:.2f} / {ours.cell_j * per_km:.2f}",
        *(f"{error:+.1e}" for error in errors),
    ]
    print("| " + " | ".join(cells) + " |")
    return max(map(abs, errors))


def main() -> None:
    print("Wh/km at terminals / inside the cells, 22 °C, FASTSim 3.1.0")
    print()
    print("| File | Cycle | Power | Seconds behind | FASTSim | Ours | Terminals % | Cells % |")
    print("|---|---|---|---|---|---|---|---|")
    numbers = range(1, len(electric_files()) + 1)
    enough = [row(number, cycle) for number in numbers for cycle in CYCLES]
    limited = [row(*weak) for weak in WEAKENED]
    print()
    print(f"Worst: {max(enough):.1e} % where the power suffices, {max(limited):.1e} % where not")


if __name__ == "__main__":
    main()
