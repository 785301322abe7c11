"""Stage payments sum to the price to the penny, and none strays from its share."""

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.pricing.stage_payments import stage_payments_pence

HOUSE_SHARES = [Decimal(share) for share in (10, 25, 25, 25, 15)]


def test_the_house_stages_of_a_round_price_are_their_exact_shares() -> None:
    # Source: common practice, no source: 10 % on order, 25 % survey, 25 % dry build, 25 % paint,
    # 15 % handover.
    assert (1_000_000, 2_500_000, 2_500_000, 2_500_000, 1_500_000) == stage_payments_pence(
        10_000_000, HOUSE_SHARES
    )


def test_an_odd_price_is_split_by_rounding_what_is_due_so_far() -> None:
    # Worked by hand for 64 999.99: due so far 6 499.999, 22 749.9965, 38 999.994, 55 249.9915 and
    # 64 999.99, each rounded to the penny, then the differences.
    expected = (650_000, 1_625_000, 1_624_999, 1_625_000, 975_000)
    assert expected == stage_payments_pence(6_499_999, HOUSE_SHARES)


def test_shares_that_do_not_sum_to_a_hundred_are_refused() -> None:
    with pytest.raises(MeasurementError, match=r"sum to 90 %.*must sum to 100 %"):
        stage_payments_pence(100, [Decimal(90)])


@given(
    total=st.integers(min_value=0, max_value=100_000_000),
    cuts=st.lists(st.integers(min_value=0, max_value=10_000), max_size=8),
)
def test_payments_sum_to_the_total_and_stay_within_a_penny(total: int, cuts: list[int]) -> None:
    edges = [0, *sorted(cuts), 10_000]
    shares = [Decimal(b - a) / 100 for a, b in pairwise(edges)]
    payments = stage_payments_pence(total, shares)
    assert total == sum(payments)
    for share, payment in zip(shares, payments, strict=True):
        assert abs(payment - total * share / 100) <= 1
