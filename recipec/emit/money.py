"""Money in words."""

from __future__ import annotations

from recipec.measure.currency import money_words
from recipec.measure.language import Language
from recipec.model.prices import Money


def money_text(money: Money, language: str = "en") -> str:
    """`£12.40`, `CHF 12.40`, as the language writes it."""
    return money_words(money.value, money.currency, language)


def least_text(sum_text: str, at_least: bool, tongue: Language) -> str:
    """`at least £12.40` of a sum that something unknown comes on top of."""
    return tongue.say("at least %(sum)s", sum=sum_text) if at_least else sum_text
