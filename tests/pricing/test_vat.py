"""VAT: the rate of the day, rounding by line, the tax inside an amount."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.catalog.models.workshop import Vat
from configurator.errors import MeasurementError
from configurator.pricing.vat import gross_pence, vat_included_pence, vat_percent_on

# Source: rates of the United Kingdom by date: 17.5 % from 1 January 2010, 20 % from 4 January 2011
# (Finance (No. 2) Act 2010, section 3); from memory, nobody has looked it up yet.
RATES = [
    Vat(percent=Decimal("17.5"), valid_from=date(2010, 1, 1), source="from memory"),
    Vat(percent=Decimal(20), valid_from=date(2011, 1, 4), source="from memory"),
]


@pytest.mark.parametrize(
    ("day", "percent"),
    [(date(2011, 1, 3), "17.5"), (date(2011, 1, 4), "20"), (date(2026, 11, 25), "20")],
)
def test_the_rate_is_that_of_the_day(day: date, percent: str) -> None:
    assert Decimal(percent) == vat_percent_on(day, RATES)


def test_a_day_before_every_rate_is_refused_with_a_remedy() -> None:
    with pytest.raises(MeasurementError, match="no VAT rate is in force on 2009-12-31"):
        vat_percent_on(date(2009, 12, 31), RATES)


def test_half_a_penny_of_tax_is_rounded_up() -> None:
    # 0.0125 × 1.2 = 0.015 exactly.
    assert 2 == gross_pence(Decimal("0.0125"), Decimal(20))


def test_the_tax_inside_is_a_sixth_at_twenty_percent() -> None:
    # Source: VAT fraction 1/6 at 20 %, Value Added Tax Act 1994; from memory.
    assert 2_000 == vat_included_pence(12_000, Decimal(20))


@given(net=st.decimals(min_value=0, max_value=100_000, places=2))
def test_tax_inside_a_gross_amount_gives_the_net_back_to_the_penny(net: Decimal) -> None:
    gross = gross_pence(net, Decimal(20))
    assert abs(gross - vat_included_pence(gross, Decimal(20)) - net * 100) <= 1
