"""Money in words."""

from __future__ import annotations

from recipec.measure.currency import money_words
from recipec.model.prices import Money


def money_text(money: Money, language: str = "en") -> str:
    """`£12.40`, `CHF 12.40`, as the language writes it."""
    return money_words(money.value, money.currency, language)
