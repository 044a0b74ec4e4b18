"""The price book: whose pints and quarts a pack is in."""

from __future__ import annotations

import pytest

from recipec.analyse.context import Context
from recipec.analyse.prices import read_prices
from recipec.base.source import Source
from recipec.larder.larder import builtin
from recipec.model.settings import Settings


@pytest.mark.parametrize(
    ("measures", "currency", "price", "unit"),
    [
        ("metric", "GBP", "2.10 USD", "us_quart"),
        ("uk", "USD", "2.10", "us_quart"),
        ("uk", "GBP", "2.10", "uk_quart"),
        ("us", "EUR", "2.10", "us_quart"),
        ("uk", "USD", "2.10 GBP", "uk_quart"),
    ],
)
def test_a_quart_paid_in_dollars_is_an_american_one(measures: str, currency: str, price: str, unit: str) -> None:
    source = Source("prices.csv", f"item,pack,price\nmilk,1 quart,{price}\n")
    (row,), findings = read_prices(source, Context(Settings(measures=measures, currency=currency), builtin()))
    assert findings == ()
    assert row.pack.terms[0].unit.name == unit
    assert round(row.pack.terms[0].base_high) == {"us_quart": 946, "uk_quart": 1137}[unit]
