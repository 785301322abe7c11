"""The curve along which a vehicle slows, fitted to runs that share its drag.

Each run has its own start and its own slowing at rest. Given the drag, they touch no other run, so
a step solves each run by itself and the drag from what they leave: as quick for forty runs as for
forty times one.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STEPS = 60
"""Gauss-Newton steps at most; a handful is usual."""

HALVINGS = 30
"""How often a step that made the fit worse is halved."""

UNBOUNDED_M_S = 1e3
"""Told in place of a speed that grows without bound."""


class _Step(NamedTuple):
    """A Gauss-Newton step, and (JᵀJ)⁻¹ of the drag and the mean slowing at rest."""

    drag: float
    of_runs: Floats
    spread: Floats


class _Curves(NamedTuple):
    drag: float
    """a [1/m] of dv/dt = -(a v² + b)."""
    of_runs: Floats
    """b [m/s²] and speed at the start [m/s] of each run, shape (n, 2)."""

    def along(self, step: _Step, share: float) -> _Curves:
        return _Curves(self.drag + share * step.drag, self.of_runs + share * step.of_runs)


def fit_curve(times: list[Floats], speeds: list[Floats]) -> tuple[Floats, Floats]:
    """Fit a and the mean of b over the runs, of dv/dt = -(a v² + b).

    Parameters
    ----------
    times : list of array, each of shape (n,)
        Rising [s], for each run.
    speeds : list of array, each of shape (n,)
        [m/s], below `UNBOUNDED_M_S`.

    Returns
    -------
    tuple of array
        a [1/m] and b [m/s²], shape (2,), of either sign; their covariance, shape (2, 2), infinite
        where the runs do not tell them apart.

    Source
    ------
    Solved as v = (v₀ - b t T)/(1 + a v₀ t T) with T = tan(√(a b) t)/(√(a b) t), for either sign of
    a b; least squares on the speeds by Gauss-Newton, covariance s² (JᵀJ)⁻¹.

    Examples
    --------
    >>> times = np.arange(0.0, 30.0, 2.0)
    >>> found, _ = fit_curve([times], [20.0 / (1 + 0.02 * times) - 0.1 * times])
    >>> bool(found[0] > 0 and found[1] > 0)
    True
    """
    curves = _straight_start(times, speeds)
    missed = _missed(curves, times, speeds)
    for _ in range(STEPS):
        step = _step(curves, times, missed)
        better = _nearer(curves, step, times, speeds)
        if better is None:
            break
        settled = _is_small(step, curves)
        curves, missed = better, _missed(better, times, speeds)
        if settled:
            break
    squares = math.fsum(float(run @ run) for run in missed)
    free = sum(run.size for run in missed) - 1 - curves.of_runs.size
    found = np.array([curves.drag, curves.of_runs[:, 0].mean()])
    return found, squares / free * _step(curves, times, missed).spread


def _step(curves: _Curves, times: list[Floats], missed: list[Floats]) -> _Step:
    count = len(times)
    alone, per_drag, own_spread = np.empty((count, 2)), np.empty((count, 2)), 0.0
    pull = weight = 0.0
    for number, (time, off) in enumerate(zip(times, missed, strict=True)):
        slopes = _slopes(curves.drag, curves.of_runs[number], time)
        solve = np.linalg.pinv(slopes[:, 1:])
        alone[number], per_drag[number] = solve @ off, solve @ slopes[:, 0]
        left = slopes[:, 0] - slopes[:, 1:] @ per_drag[number]
        pull += float(left @ off)
        weight += float(left @ left)
        own_spread += float(solve[0] @ solve[0]) / count**2
    if not weight > 0:
        return _Step(0.0, alone, np.full((2, 2), np.inf))
    drag, shift = pull / weight, float(per_drag[:, 0].mean())
    spread = np.array([[1.0, -shift], [-shift, shift**2]]) / weight
    spread[1, 1] += own_spread
    return _Step(drag, alone - per_drag * drag, spread)


def _is_small(step: _Step, curves: _Curves) -> bool:
    small = abs(step.drag) <= 1e-10 * abs(curves.drag)
    return small and bool(np.all(np.abs(step.of_runs) <= 1e-10 * np.abs(curves.of_runs)))


def _nearer(
    curves: _Curves, step: _Step, times: list[Floats], speeds: list[Floats]
) -> _Curves | None:
    """Go along a step, half as far each time, until the fit is better; None where it never is."""
    before = _squares(curves, times, speeds)
    for halving in range(HALVINGS):
        there = curves.along(step, 1 / 2**halving)
        if _squares(there, times, speeds) < before:
            return there
    return None


def _squares(curves: _Curves, times: list[Floats], speeds: list[Floats]) -> float:
    return math.fsum(float(run @ run) for run in _missed(curves, times, speeds))


def _missed(curves: _Curves, times: list[Floats], speeds: list[Floats]) -> list[Floats]:
    runs = zip(curves.of_runs, times, speeds, strict=True)
    return [speed - _rolling(curves.drag, own, time - time[0]) for own, time, speed in runs]


def _straight_start(times: list[Floats], speeds: list[Floats]) -> _Curves:
    """Guess a and b by a straight line through the slowing over the square of the speed."""
    slowing = np.concatenate([-np.diff(v) / np.diff(t) for t, v in zip(times, speeds, strict=True)])
    squares = np.concatenate([((v[1:] + v[:-1]) / 2) ** 2 for v in speeds])
    columns = np.stack([squares, np.ones_like(squares)], axis=1)
    a, b = np.linalg.lstsq(columns, slowing, rcond=None)[0]
    starts = [(max(float(b), 1e-3), float(speed[0])) for speed in speeds]
    return _Curves(max(float(a), 1e-5), np.array(starts))


def _rolling(a: float, own: Floats, time_s: Floats) -> Floats:
    """Solve dv/dt = -(a v² + b), whatever the signs of a and b, down to a standstill."""
    b, start_m_s = float(own[0]), float(own[1])
    root = math.sqrt(abs(a * b))
    angle = root * time_s
    if a * b > 0:
        # Past a quarter turn the tangent starts anew; the vehicle stood, or is beyond all bounds.
        angle = np.minimum(angle, math.pi / 2 - 1e-9)
    turned = np.tan(angle) if a * b > 0 else np.tanh(angle)
    reach = turned / root if root > 0 else time_s
    falling = 1 + a * start_m_s * reach
    speed = (start_m_s - b * reach) / np.where(falling > 0, falling, 1.0)
    return np.clip(np.where(falling > 0, speed, UNBOUNDED_M_S), 0.0, UNBOUNDED_M_S)


def _slopes(a: float, own: Floats, time: Floats) -> Floats:
    """Change of a run's speeds with a, its b and its start, by central differences."""
    values, since, columns = np.array([a, *own]), time - time[0], []
    for number, value in enumerate(values):
        hair = 1e-6 * max(abs(value), 1e-6)
        more, less = values.copy(), values.copy()
        more[number], less[number] = value + hair, value - hair
        change = _rolling(more[0], more[1:], since) - _rolling(less[0], less[1:], since)
        columns.append(change / (2 * hair))
    return np.stack(columns, axis=1)
