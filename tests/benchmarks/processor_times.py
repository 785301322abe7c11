"""Processor times by kind of question, laid out as rows of one table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from statistics import median
from time import process_time
from typing import TypeVar

Answer = TypeVar("Answer")

HEADING = (
    f"{'processor time [ms]':62}{'asked':>6}{'median':>10}{'p95':>10}{'worst':>10}"
    f"  {'goal':24}{'baseline':>9}{'ratio':>8}"
)


@dataclass
class Times:
    """Milliseconds by kind of question, in the order in which the kinds were first asked."""

    by_kind: dict[str, list[float]] = field(default_factory=dict)

    def of(self, kind: str, ask: Callable[[], Answer]) -> Answer:
        started = process_time()
        answer = ask()
        self.add(kind, 1000 * (process_time() - started))
        return answer

    def add(self, kind: str, milliseconds: float) -> None:
        self.by_kind.setdefault(kind, []).append(milliseconds)


@dataclass(frozen=True)
class Goal:
    """The greatest figures [ms] wanted, and the least ratio to the baseline."""

    median: float | None = None
    p95: float | None = None
    ratio: float | None = None

    def against(self, middle: float, at_95: float, ratio: float | None) -> str:
        parts = [
            f"{name} {wanted:g}{'' if is_met else '!'}"
            for name, wanted, is_met in [
                ("≤", self.median, self.median is None or middle <= self.median),
                ("p95 ≤", self.p95, self.p95 is None or at_95 <= self.p95),
                ("≥", self.ratio, ratio is None or self.ratio is None or ratio >= self.ratio),
            ]
            if wanted is not None
        ]
        return ", ".join(part + (" x" if part.startswith("≥") else "") for part in parts)


def percentile_95(values: Sequence[float]) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(0.95 * len(ordered)))]


def rows(
    title: str, times: Times, goals: dict[str, Goal], baselines: dict[str, list[float]]
) -> list[str]:
    """Lay out all kinds; a goal that is missed is marked with an exclamation mark."""
    return [
        _row(f"{title}: {kind}", values, goals.get(kind, Goal()), baselines.get(kind))
        for kind, values in times.by_kind.items()
    ]


def _row(name: str, values: list[float], goal: Goal, baseline: list[float] | None) -> str:
    middle, at_95 = median(values), percentile_95(values)
    compared = median(baseline) if baseline else None
    ratio = None if compared is None else compared / max(middle, 0.001)
    columns = "" if compared is None else f"{compared:9.0f}{ratio:7.0f}x"
    said = goal.against(middle, at_95, ratio)
    figures = f"{len(values):6}{middle:10.2f}{at_95:10.2f}{max(values):10.2f}"
    return f"{name:62}{figures}  {said:24}{columns}".rstrip()
