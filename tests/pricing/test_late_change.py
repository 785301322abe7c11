"""Late changes cost a share of the dearer line, and payments still to come take the change."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from configurator.pricing.late_change import late_change_pence, payments_after_pence

PENCE = st.integers(0, 10_000_000)


# Source: worked by hand: 15 % of 2,500.00 and of 100.01 are 375.00 and 15.00.
def test_a_share_of_the_dearer_of_both_lines_is_charged() -> None:
    assert 39_000 == late_change_pence([(200_000, 250_000), (10_001, 0)], Decimal(15))


@given(st.lists(st.tuples(PENCE, PENCE), max_size=8), st.decimals(0, 100, places=1))
def test_turned_round_a_change_costs_the_same(
    lines: list[tuple[int, int]], percent: Decimal
) -> None:
    back = [(after, before) for before, after in lines]
    assert late_change_pence(lines, percent) == late_change_pence(back, percent)
    assert 0 <= late_change_pence(lines, percent)


@given(
    st.lists(st.tuples(PENCE, st.booleans()), min_size=1, max_size=8), st.integers(-(10**6), 10**6)
)
def test_payments_sum_to_the_changed_price_and_what_fell_due_stays(
    planned: list[tuple[int, bool]], change: int
) -> None:
    amounts, due = [amount for amount, _ in planned], [is_due for _, is_due in planned]
    after = payments_after_pence(amounts, due, change)
    assert sum(amounts) + change == sum(after)
    if any(amount > 0 and not is_due for amount, is_due in planned):
        assert all(
            was == now for was, now, is_due in zip(amounts, after, due, strict=True) if is_due
        )
