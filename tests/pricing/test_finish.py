"""The finish is the longest path through the stages; waiting never shortens it."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from configurator.pricing.finish import Arrival, finish_days

HOURS = st.lists(st.decimals(min_value=0, max_value=200, places=1), min_size=3, max_size=3)


def test_a_late_part_delays_only_the_work_from_its_stage_on() -> None:
    # By hand, 35 h a week: 70 h + 35 h + 35 h are 14 + 7 + 7 days, after 2 weeks 42 days in all.
    # A part after 6 weeks that the last stage needs: 42 + 7 days.
    stages = [Decimal(70), Decimal(35), Decimal(35)]
    assert 42 == finish_days(stages, [], queue_weeks=2, hours_per_week=Decimal(35))
    late = [Arrival(lead_weeks=6, stage=2)]
    assert 49 == finish_days(stages, late, queue_weeks=2, hours_per_week=Decimal(35))


def test_a_day_begun_is_a_day() -> None:
    assert 1 == finish_days([Decimal("0.1")], [], queue_weeks=0, hours_per_week=Decimal(70))


@given(hours=HOURS, weeks=st.integers(min_value=0, max_value=50), stage=st.integers(0, 2))
def test_more_waiting_never_brings_the_finish_forward(
    hours: list[Decimal], weeks: int, stage: int
) -> None:
    def finish(lead: int) -> int:
        return finish_days(hours, [Arrival(lead, stage)], queue_weeks=3, hours_per_week=Decimal(60))

    assert finish(weeks) <= finish(weeks + 1)
