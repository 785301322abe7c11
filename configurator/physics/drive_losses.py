"""The losses of a drive, fitted to its efficiency at some loads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from configurator.errors import Fault, MeasurementError
from configurator.physics.measurement import EFFICIENCY, POSITIVE, require

FEWEST_POINTS = 3


@dataclass(frozen=True)
class DriveLosses:
    """Losses by the power given, P: `no_load_w` + (1 / `efficiency` - 1) P + `per_w` P²."""

    no_load_w: float
    """Loss of the turning drive whatever it gives [W]."""
    efficiency: float
    """Without the other two losses, above 0 and at most 1."""
    per_w: float
    """Loss by the square of the power [1/W]."""
    rms_percent: float
    """How far the fit is off the efficiencies, root mean square [%]."""


def drive_losses(peak_power_w: float, efficiency_by_load: Mapping[float, float]) -> DriveLosses:
    """Fit the three losses of a drive to its efficiency at some loads.

    A loss of the turning drive, one in proportion to the power and one by its square, none of them
    negative: with them a watt more always costs more than the one before, as the model of the road
    load needs. The errors are counted as shares of the power taken.

    Parameters
    ----------
    peak_power_w : float
        Greatest power given [W], > 0.
    efficiency_by_load : mapping
        Share of the peak power, > 0 → power given by power taken, > 0, at most 1; three loads or
        more.

    Returns
    -------
    DriveLosses
        With how far the fit is off.

    Raises
    ------
    MeasurementError
        If there are too few loads, or one is impossible.

    Source
    ------
    Least squares with weights, each set of losses that may be 0 tried; form of the losses: common
    practice, constant for iron and friction, linear for switching, square for the windings.

    Examples
    --------
    >>> fit = drive_losses(60e3, {0.02: 0.83, 0.05: 0.89, 0.1: 0.91, 0.5: 0.913, 1.0: 0.90})
    >>> round(fit.no_load_w), round(fit.efficiency, 3), round(fit.rms_percent, 1)
    (163, 0.936, 0.1)
    """
    return _remembered_fit(peak_power_w, tuple(efficiency_by_load.items()))


@lru_cache(maxsize=256)
def _remembered_fit(peak_power_w: float, points: tuple[tuple[float, float], ...]) -> DriveLosses:
    """Fit a drive once: every band of every build with it asks again."""
    efficiency_by_load = dict(points)
    if len(efficiency_by_load) < FEWEST_POINTS:
        what = f"efficiency_by_load has {len(efficiency_by_load)} loads; a fit needs three"
        raise MeasurementError([Fault("M020", "drive", what, "Give more loads, or none.")])
    checks = {f"load {load:g}": (load, POSITIVE) for load in efficiency_by_load}
    require("drive", {"peak_power_w": (peak_power_w, POSITIVE), **checks})
    require(
        "drive", {f"efficiency at {s:g}": (e, EFFICIENCY) for s, e in efficiency_by_load.items()}
    )

    given_w = peak_power_w * np.array(list(efficiency_by_load), dtype=np.float64)
    taken_w = given_w / np.array(list(efficiency_by_load.values()), dtype=np.float64)
    shapes = np.stack([np.ones_like(given_w), given_w, given_w**2]) / taken_w
    losses = _not_negative_fit(shapes, 1 - given_w / taken_w)
    fitted_w = given_w + losses @ shapes * taken_w
    errors = taken_w / fitted_w - 1
    return DriveLosses(
        no_load_w=float(losses[0]),
        efficiency=float(1 / (1 + losses[1])),
        per_w=float(losses[2]),
        rms_percent=float(100 * np.sqrt(np.mean(errors**2))),
    )


def _not_negative_fit(
    shapes: NDArray[np.float64], wanted: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Find the factors, none negative, with which the shapes come nearest to what is wanted."""
    best, least = np.zeros(len(shapes)), float(wanted @ wanted)
    for count in range(1, len(shapes) + 1):
        for used in combinations(range(len(shapes)), count):
            scale = np.abs(shapes[list(used)]).max(axis=1, keepdims=True)
            part = np.linalg.lstsq((shapes[list(used)] / scale).T, wanted, rcond=None)[0]
            missed = wanted - part @ (shapes[list(used)] / scale)
            if (part >= 0).all() and float(missed @ missed) < least:
                best, least = np.zeros(len(shapes)), float(missed @ missed)
                best[list(used)] = part / scale[:, 0]
    return best
