"""`cookbook.toml` as data."""

from __future__ import annotations

from typing import NamedTuple


class Settings(NamedTuple):
    """The book. `measures` is the region of bare cups and spoons ('' when unsaid); `show` how amounts are shown:
    `as written`, `metric` or `us`. `paper` is A4, A5 or Letter. `safety` names the rule set."""

    title: str = "A cookbook"
    author: str = ""
    currency: str = "EUR"
    measures: str = ""
    show: str = "as written"
    paper: str = "A4"
    language: str = "en"
    safety: str = "us-food-code"
    note: str = ""
