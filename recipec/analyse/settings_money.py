"""The settings that are sums: exchange rates, how long a price stands, the seasoning allowance."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from recipec.analyse.context import Notes
from recipec.base.span import Span
from recipec.measure.decimals import decimal_of, is_currency, written
from recipec.model.prices import Rate

_RATE = re.compile(r"(?P<much>\S.*?)\s*(?P<currency>[A-Za-z]{3})\s*=\s*(?P<worth>\S.*?)\s*(?P<other>[A-Za-z]{3})")
# A comma may stand in a number: only one before the next equation parts two.
_BETWEEN = re.compile(r"\s*;\s*|\s*,\s*(?=[^,;=]*?[A-Za-z]{3}\s*=)")
_DAYS = re.compile(r"([0-9]{1,4})\s*(?P<unit>d|days?|weeks?|months?)", re.IGNORECASE)
_IN_A = {"d": 1, "day": 1, "week": 7, "month": 30}
_PART = re.compile(r"(\S.*?)\s*%")


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads one book's settings of money. `language` is how its numbers are written; `spans` where the settings stand."""

    language: str
    notes: Notes
    spans: Mapping[str, Span]

    def rates(self, text: str) -> tuple[Rate, ...]:
        """`1 USD = 0.79 GBP, 1 EUR = 0.86 GBP`: a bad one is a finding, the others stand."""
        found: dict[frozenset[str], Rate] = {}
        for piece in _BETWEEN.split(text.strip().rstrip(",;")):
            if not piece.strip():
                continue
            rate = self._rate(piece.strip())
            if rate is None:
                continue
            pair = frozenset((rate.currency, rate.other))
            if pair in found:
                self._bad("rates", f"The rate between {rate.currency} and {rate.other} is stated twice.", "Keep one.")
            else:
                found[pair] = rate
        return tuple(found.values())

    def _rate(self, piece: str) -> Rate | None:
        match = _RATE.fullmatch(piece)
        much = None if match is None else decimal_of(match["much"], self.language)
        worth = None if match is None else decimal_of(match["worth"], self.language)
        if match is None or not much or not worth:
            example = written(Decimal("0.79"), self.language)
            self._bad("rates", f"`{piece}` is no exchange rate.", f'Write it as: rates = "1 USD = {example} GBP"')
            return None
        codes = match["currency"].upper(), match["other"].upper()
        for code in codes:
            if not is_currency(code):
                self._bad("rates", f"`{code}` is no currency code.", "Write its three letters by ISO 4217, like GBP.")
                return None
        if codes[0] == codes[1]:
            self._bad("rates", f"`{piece}` names {codes[0]} twice.", "A rate stands between two currencies.")
            return None
        return Rate(codes[0], Fraction(worth) / Fraction(much), codes[1])

    def days(self, text: str) -> int | None:
        """`90 d`, `12 weeks`: how many days a price stands."""
        match = _DAYS.fullmatch(text.strip())
        days = 0 if match is None else int(match[1]) * _IN_A[match["unit"].lower().rstrip("s")]
        if not days:
            self._bad(
                "prices_stand", f"`{text}` is no number of days.", 'Write it as days or weeks: prices_stand = "90 d"'
            )
            return None
        return days

    def part(self, text: str) -> Fraction | None:
        """`3%` as a fraction of the whole."""
        match = _PART.fullmatch(text.strip())
        value = None if match is None else decimal_of(match[1], self.language)
        if value is None or value >= 100:
            self._bad("seasoning", f"`{text}` is no percentage.", 'Write a part of the food\'s cost: seasoning = "3%"')
            return None
        return Fraction(value) / 100

    def _bad(self, key: str, message: str, hint: str) -> None:
        self.notes.add("bad-settings", self.spans[key], message, hint)
