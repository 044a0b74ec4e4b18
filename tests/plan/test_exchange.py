"""Money crosses currencies only at stated rates."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from recipec.measure.quantity import one, quantity
from recipec.measure.units import unit
from recipec.model.prices import Money, Rate
from recipec.model.settings import Settings
from recipec.plan.exchange import Rates, prices_in
from tests.plan import make

STATED = (
    Rate("USD", Fraction(79, 100), "GBP"),
    Rate("EUR", Fraction(86, 100), "GBP"),
    Rate("EUR", Fraction(166), "JPY"),
    Rate("KWD", Fraction(257, 100), "GBP"),
)


@pytest.mark.parametrize(
    ("value", "currency", "into", "result"),
    [
        ("2.40", "GBP", "GBP", "2.40"),
        ("2.401", "GBP", "GBP", "2.401"),
        ("10", "USD", "GBP", "7.90"),
        ("7.90", "GBP", "USD", "10.00"),
        ("1", "GBP", "USD", "1.27"),
        ("10", "USD", "EUR", "9.19"),
        ("10", "EUR", "USD", "10.89"),
        ("1", "GBP", "JPY", "193"),
        # Yen have no hundredths; a dinar has thousandths.
        ("2.50", "GBP", "JPY", "483"),
        ("0.001", "EUR", "JPY", "1"),
        ("1", "GBP", "KWD", "0.389"),
        ("0.01", "JPY", "EUR", "0.01"),
        ("0", "USD", "GBP", "0.00"),
        ("10", "USD", "JPY", None),
        ("10", "CHF", "GBP", None),
        ("10", "GBP", "CHF", None),
    ],
)
def test_a_sum_into_another_currency(value: str, currency: str, into: str, result: str | None) -> None:
    found = Rates(STATED).to(Money(Decimal(value), currency), into)
    assert found == (None if result is None else Money(Decimal(result), into))
    assert found is None or str(found.value) == result


def test_two_steps_are_a_guess_beyond_one_common_currency() -> None:
    # USD and JPY have no rate to the same third: USD-GBP, GBP-EUR and EUR-JPY would be three steps.
    assert Rates(STATED).worth("USD", "JPY") is None
    assert Rates(()).worth("GBP", "GBP") == 1


def test_there_and_back_is_exact() -> None:
    rates = Rates(STATED)
    there, back = rates.worth("USD", "EUR"), rates.worth("EUR", "USD")
    assert there is not None and back is not None
    assert there * back == 1


def test_the_books_prices_keep_their_rows() -> None:
    kilo = one(quantity(Fraction(1), unit("kg")))
    rows = [
        make.price("onion", kilo, "1.10", currency="GBP"),
        make.price("onion", kilo, "2.00", "Far Stores", currency="USD"),
        make.price("onion", kilo, "9.00", "Farther Stores", currency="CHF"),
    ]
    usable, left_out = prices_in(make.book((), prices=rows, settings=Settings(currency="GBP", rates=STATED)), "GBP")
    assert [(price.shop, str(price.price.value)) for price in usable] == [
        ("Quay Stores", "1.10"),
        ("Far Stores", "1.58"),
    ]
    assert usable[1].span is rows[1].span
    assert left_out == (rows[2],)
