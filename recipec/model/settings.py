"""`cookbook.toml` as data."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipec.model.prices import Rate

PRICES_STAND_DAYS = 90
"""How old a price may be at the serving day before it is worth a look: a season, common practice."""


class Settings(NamedTuple):
    """The book. `measures` is the region of bare cups and spoons ('' when unsaid); `show` how amounts are shown:
    `as written`, `metric` or `us`. `paper` is A4, A5 or Letter. `safety` names the rule set.

    `language` is that of papers: words, numbers, dates (`measure/language.py`), and of the numbers in `prices.csv`, save where
    `numbers` names another for those. `rates` are the book's exchange rates; `prices_stand_days`
    is how many days a price stands; `seasoning` the allowance for salt, oil and the like, as a part of the food's cost.
    """

    title: str = "A cookbook"
    author: str = ""
    currency: str = "EUR"
    measures: str = ""
    show: str = "as written"
    paper: str = "A4"
    language: str = "en"
    safety: str = "us-food-code"
    note: str = ""
    rates: tuple[Rate, ...] = ()
    prices_stand_days: int = PRICES_STAND_DAYS
    seasoning: Fraction = Fraction(0)
    numbers: str = ""
