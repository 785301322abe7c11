"""Coast-down runs of a vehicle with a known drag, integrated step by step."""

from __future__ import annotations

from datetime import date
from typing import Literal

from configurator.catalog.models.measurements import CoastDown, CoastDownRun
from configurator.physics.air_density import air_density_kg_m3

TEST_KG, AIR_C = 1260.0, 12.0
STEP_S = 0.01


def runs_of(
    *,
    drag_area_m2: float = 1.31,
    rolling: float = 0.0104,
    from_km_h: float = 85.0,
    to_km_h: float = 15.0,
) -> tuple[CoastDownRun, CoastDownRun]:
    """Roll out twice alike, on a level road without wind; a reading each 2.5 s."""
    density = air_density_kg_m3(AIR_C, 0.0)
    times: list[float] = []
    speeds: list[float] = []
    speed, step = from_km_h / 3.6, 0
    while 3.6 * speed > to_km_h or len(times) < 5:
        if step % 250 == 0:
            times.append(step * STEP_S)
            speeds.append(round(3.6 * speed, 2))
        force = 0.5 * density * drag_area_m2 * speed**2 + TEST_KG * 9.80665 * rolling
        speed -= STEP_S * force / (1.03 * TEST_KG)
        step += 1
    run = CoastDownRun(time_s=tuple(times), speed_km_h=tuple(speeds))
    return run, run


def coast_down(vehicle_was: Literal["donor", "finished"] = "finished") -> CoastDown:
    """State a coast-down with those runs."""
    return CoastDown(
        measured_on=date(2026, 3, 2),
        vehicle_was=vehicle_was,
        mass_kg=TEST_KG,
        temperature_c=AIR_C,
        runs=runs_of(),
    )
