from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from configurator.app.view_models.words import (
    day_from_to,
    from_to,
    money,
    money_from_to,
    price_difference,
)

AMOUNTS = st.decimals(min_value=0, max_value=900_000, places=2)


def test_whole_pounds_are_said_without_pennies():
    assert money(Decimal("46250.00")) == "£46,250"


def test_a_reduction_is_said_with_a_minus_sign():
    assert price_difference(Decimal("-450.00")) == "−\N{NO-BREAK SPACE}£450"


def test_an_equal_price_is_said_in_words():
    assert price_difference(Decimal("0.00")) == "no difference"


@given(AMOUNTS, AMOUNTS)
def test_the_pounds_shown_always_hold_the_true_price(first: Decimal, second: Decimal):
    low, high = sorted((first, second))
    said = [
        Decimal(number.replace(",", ""))
        for number in re.findall(r"£([\d,.]+)", money_from_to(low, high))
    ]
    assert said[0] <= low
    assert high <= said[-1]


@given(
    st.floats(min_value=0, max_value=5000, allow_nan=False),
    st.floats(min_value=0, max_value=900, allow_nan=False),
    st.integers(min_value=0, max_value=1),
)
def test_a_from_to_is_widened_and_never_narrowed(low: float, span: float, decimals: int):
    said = from_to(low, low + span, "km", decimals).removesuffix(" km").replace(",", "")
    ends = [float(number) for number in said.split("–")]
    slack = 1e-6 if len(ends) == 2 else 0.5 / 10**decimals + 1e-6
    assert ends[0] <= low + slack
    assert low + span <= ends[-1] + slack


@given(st.dates(date(2020, 1, 1), date(2080, 1, 1)), st.integers(min_value=0, max_value=800))
def test_two_dates_always_name_the_last_one_in_full(first: date, days: int):
    last = first + timedelta(days=days)
    month = f"{last:%B %Y}" if first == last else f"{last:%b %Y}"
    assert day_from_to(first, last).endswith(f"{last.day} {month}")
