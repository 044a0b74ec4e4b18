"""Money and the price book."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from recipec.base.span import Span
from recipec.measure.quantity import Amount


class Money(NamedTuple):
    """A sum in one currency (ISO 4217). Different currencies never add."""

    value: Decimal
    currency: str


class Rate(NamedTuple):
    """A stated rate: one of `currency` is worth `worth` of `other`, exactly."""

    currency: str
    worth: Fraction
    other: str


class Price(NamedTuple):
    """One row of `prices.csv`: what a pack of an item costs at a shop, and when that was seen.

    `item` is the larder's key where it knows the thing, else the normal form of the name as written. `span` is the item's
    cell, `seen_span` that of the day, None without one.
    """

    item: str
    name: str
    pack: Amount
    price: Money
    shop: str
    seen: date | None
    span: Span
    seen_span: Span | None = None
