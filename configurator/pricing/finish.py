"""How long a build takes: the queue, the hours, and the parts that arrive late.

Time is counted in ticks, whole numbers, so that a limit on the finish is kept or broken exactly:
one day is as many ticks as the workshop has tenths of an hour a week for the build.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from configurator.units import DAYS_PER_WEEK, tenths


@dataclass(frozen=True)
class Arrival:
    """Parts that arrive so many weeks after the order and are needed at the start of a stage."""

    lead_weeks: int
    stage: int


def ticks_per_day(hours_per_week: Decimal) -> int:
    """Tell how many ticks make a day.

    Examples
    --------
    >>> ticks_per_day(Decimal("70"))
    700
    """
    return tenths(hours_per_week)


def work_ticks(hours: Decimal) -> int:
    """Convert working hours to ticks; a week of the workshop's hours is seven days.

    Examples
    --------
    >>> work_ticks(Decimal("70")) == 7 * ticks_per_day(Decimal("70"))
    True
    """
    return DAYS_PER_WEEK * tenths(hours)


def week_ticks(weeks: int, hours_per_week: Decimal) -> int:
    """Convert weeks of waiting to ticks.

    Examples
    --------
    >>> week_ticks(2, Decimal("70"))
    9800
    """
    return weeks * DAYS_PER_WEEK * ticks_per_day(hours_per_week)


def whole_days(ticks: int, hours_per_week: Decimal) -> int:
    """Round ticks up to whole days; a day begun is a day.

    Examples
    --------
    >>> whole_days(701, Decimal("70"))
    2
    """
    return -(-ticks // ticks_per_day(hours_per_week))


def finish_days(
    hours_by_stage: Sequence[Decimal],
    arrivals: Sequence[Arrival],
    queue_weeks: int,
    hours_per_week: Decimal,
) -> int:
    """Tell the days from order to handover.

    The work runs through the stages one after the other; it starts when the queue is done, and a
    stage cannot start before the parts it needs have arrived.

    Parameters
    ----------
    hours_by_stage : sequence of Decimal, shape (n,)
        Working hours in each stage, in order [h].
    arrivals : sequence of Arrival, shape (m,)
        Parts with their lead time and the stage that needs them.
    queue_weeks : int
        Weeks from order until the work can start.
    hours_per_week : Decimal
        Working hours a week that go into this build [h].

    Returns
    -------
    int
        Whole days from order to handover.

    Source
    ------
    Longest path through a chain of stages with release times; common practice, no source.

    Examples
    --------
    >>> finish_days([Decimal(70), Decimal(35)], [], queue_weeks=1, hours_per_week=Decimal(70))
    18
    >>> finish_days([Decimal(70), Decimal(35)], [Arrival(lead_weeks=10, stage=1)],
    ...             queue_weeks=1, hours_per_week=Decimal(70))
    74
    """
    left = [
        work_ticks(sum(hours_by_stage[stage:], Decimal(0))) for stage in range(len(hours_by_stage))
    ]
    paths = [week_ticks(queue_weeks, hours_per_week) + (left[0] if left else 0)]
    paths += [week_ticks(a.lead_weeks, hours_per_week) + left[a.stage] for a in arrivals]
    return whole_days(max(paths), hours_per_week)
