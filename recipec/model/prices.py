"""Money and the price book."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import NamedTuple

from recipec.base.span import Span
from recipec.measure.quantity import Amount


class Money(NamedTuple):
    """A sum in one currency (ISO 4217). Different currencies never add."""

    value: Decimal
    currency: str


class Price(NamedTuple):
    """One row of `prices.csv`: what a pack of an item costs at a shop, and when that was seen.

    `item` is the larder's key where it knows the thing, else the normal form of the name as written.
    """

    item: str
    name: str
    pack: Amount
    price: Money
    shop: str
    seen: date | None
    span: Span
