"""Three vehicles of our own for the drawings: a van, an open tourer, a pickup."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.catalog.models.vehicle import Outline, Place, Vehicle

VAN = Outline(
    body=(
        (-1.02, 0.36),
        (-1.09, 0.62),
        (-1.1, 0.95),
        (-1.02, 1.18),
        (-0.93, 1.4),
        (-0.8, 1.72),
        (-0.68, 1.84),
        (-0.4, 1.9),
        (0.4, 1.94),
        (1.6, 1.95),
        (2.6, 1.92),
        (2.98, 1.86),
        (3.12, 1.74),
        (3.2, 1.3),
        (3.24, 0.9),
        (3.2, 0.5),
        (3.12, 0.36),
    ),
    lower_band=(
        (-1.02, 0.36),
        (-1.09, 0.62),
        (-1.1, 0.95),
        (-1.06, 1.1),
        (0.4, 1.1),
        (3.22, 1.1),
        (3.24, 0.9),
        (3.2, 0.5),
        (3.12, 0.36),
    ),
    roof=((-0.68, 1.84), (-0.4, 1.9), (0.4, 1.94), (1.6, 1.95), (2.6, 1.92), (2.98, 1.86)),
    windows=(
        ((-0.93, 1.22), (-0.86, 1.42), (-0.76, 1.66), (-0.7, 1.7), (-0.66, 1.66), (-0.66, 1.22)),
        ((-0.52, 1.22), (-0.52, 1.64), (-0.48, 1.69), (0.22, 1.69), (0.26, 1.65), (0.26, 1.22)),
        ((0.42, 1.24), (0.42, 1.65), (0.46, 1.69), (1.36, 1.69), (1.4, 1.65), (1.4, 1.24)),
        ((1.56, 1.24), (1.56, 1.65), (1.6, 1.69), (2.86, 1.66), (2.92, 1.6), (2.95, 1.24)),
    ),
    doors=(
        ((-0.6, 0.42), (-0.6, 1.74), (0.34, 1.76), (0.34, 0.42)),
        ((0.34, 0.42), (0.34, 1.76), (1.48, 1.77), (1.48, 0.42)),
    ),
    bumpers=(((-1.16, 0.48), (-1.14, 0.46), (-0.72, 0.45)), ((2.85, 0.45), (3.28, 0.46))),
    lamps=((-1.04, 0.92, 0.11), (-1.09, 0.7, 0.045), (3.2, 0.86, 0.06)),
)

TOURER = Outline(
    body=(
        (-0.62, 0.34),
        (-0.72, 0.5),
        (-0.7, 0.7),
        (-0.6, 0.82),
        (-0.3, 0.9),
        (0.2, 0.95),
        (0.72, 0.99),
        (0.86, 0.98),
        (1.2, 0.92),
        (1.6, 0.9),
        (1.95, 0.95),
        (2.3, 0.93),
        (2.7, 0.86),
        (3.0, 0.74),
        (3.08, 0.6),
        (3.02, 0.42),
        (2.9, 0.34),
    ),
    lower_band=((-0.62, 0.34), (-0.7, 0.44), (3.02, 0.44), (2.9, 0.34)),
    roof=((0.92, 1.34), (1.1, 1.39), (1.5, 1.4), (1.85, 1.34), (2.1, 1.2), (2.3, 0.94)),
    windows=(
        ((0.72, 1.0), (0.92, 1.32), (0.97, 1.32), (0.8, 1.0)),
        ((0.9, 0.98), (1.05, 1.28), (1.5, 1.31), (1.62, 1.24), (1.66, 0.93)),
    ),
    doors=(((0.86, 0.97), (0.84, 0.44), (1.64, 0.44), (1.66, 0.9)),),
    bumpers=(((-0.8, 0.46), (-0.45, 0.45)), ((2.8, 0.45), (3.14, 0.47))),
    lamps=((-0.56, 0.72, 0.085), (-0.68, 0.54, 0.04), (3.02, 0.64, 0.05)),
)

PICKUP = Outline(
    body=(
        (-0.78, 0.44),
        (-0.84, 0.7),
        (-0.82, 0.98),
        (-0.74, 1.06),
        (-0.2, 1.12),
        (0.5, 1.16),
        (0.86, 1.62),
        (0.98, 1.7),
        (1.5, 1.72),
        (1.72, 1.66),
        (1.78, 1.1),
        (1.84, 1.04),
        (3.66, 1.04),
        (3.7, 0.98),
        (3.68, 0.5),
        (3.62, 0.44),
    ),
    lower_band=((-0.78, 0.44), (-0.83, 0.64), (3.69, 0.64), (3.62, 0.44)),
    roof=((0.86, 1.62), (0.98, 1.7), (1.5, 1.72), (1.72, 1.66)),
    windows=(((0.66, 1.2), (0.92, 1.54), (0.98, 1.58), (1.56, 1.58), (1.6, 1.54), (1.62, 1.2)),),
    doors=(((0.5, 1.14), (0.52, 0.5), (1.7, 0.5), (1.68, 1.62)),),
    bumpers=(((-0.92, 0.54), (-0.5, 0.54)),),
    lamps=((-0.78, 0.88, 0.1), (3.66, 0.82, 0.05)),
    load_bed=((1.88, 0.62), (1.88, 1.03), (3.64, 1.03), (3.64, 0.62)),
)


def made_vehicle(outline: Outline, **changes: Any) -> Vehicle:
    """Make a vehicle that has an outline and little else."""
    values: dict[str, Any] = {
        "id": "sample", "label": "Sample", "year": 1960, "kind": "vehicle",
        "introduction": "For drawing only.", "source": "from memory, nobody has looked it up yet",
        "wheelbase_m": 2.2, "track_m": 1.3, "length_m": 4.0, "width_m": 1.65, "height_m": 1.9,
        "front_overhang_m": 0.8, "donor_front_axle_kg": 600, "donor_rear_axle_kg": 600,
        "front_axle_limit_kg": 900, "rear_axle_limit_kg": 900, "gross_mass_limit_kg": 1800,
        "mass_sigma_kg": 20, "driven_axle": "rear",
        "places": {"seat": Place(label="Seat", x_m=0.5, z_m=0.8)}, "driver_place": "seat",
        "takes_out": (), "puts_in": (), "carries": (), "base_lines": (),
        "survey_template": "plain", "outline": outline, "controls": (), "lifting_points": ("seat",),
        "tow_eye": "seat", "base_low_voltage_load_w": 100,
    }  # fmt: skip
    uncertain = {"value": 1.0, "sigma_percent": 5, "source": "from memory"}
    for name in ("drag_area_m2", "auxiliary_power_w", "cabin_heat_loss_w_per_k"):
        values[name] = uncertain
    return Vehicle.model_validate(values | changes)


@pytest.fixture(scope="session")
def van() -> Vehicle:
    return made_vehicle(VAN, label="Sample van", length_m=4.34, front_overhang_m=1.1, height_m=1.95)


@pytest.fixture(scope="session")
def tourer() -> Vehicle:
    return made_vehicle(
        TOURER, label="Sample tourer", wheelbase_m=2.3, length_m=3.8, front_overhang_m=0.72,
        height_m=1.4, width_m=1.5,
    )  # fmt: skip


@pytest.fixture(scope="session")
def pickup() -> Vehicle:
    return made_vehicle(
        PICKUP, label="Sample pickup", wheelbase_m=2.75, length_m=4.54, front_overhang_m=0.84,
        height_m=1.72,
    )  # fmt: skip


@pytest.fixture(scope="session", params=["van", "tourer", "pickup"])
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    found: Vehicle = request.getfixturevalue(request.param)
    return found
