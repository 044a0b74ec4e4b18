"""Amounts in the words of a finding: exact, with ordinary spaces, so that they can be searched and copied."""

from __future__ import annotations

from recipec.measure.numerals import NO_BREAK
from recipec.measure.quantity import Amount, Quantity, one
from recipec.measure.show import show_amount


def amount_words(amount: Amount | Quantity) -> str:
    """`650 g`, `1 tin (400 g)`."""
    whole = one(amount) if isinstance(amount, Quantity) else amount
    return show_amount(whole, written=True).text.replace(NO_BREAK, " ")
