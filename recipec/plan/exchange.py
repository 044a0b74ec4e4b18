"""Money from one currency into another, only at rates the book states."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from recipec.measure.currency import minor_unit, to_minor
from recipec.model.book import Book
from recipec.model.prices import Money, Price, Rate


@dataclass(frozen=True, slots=True)
class Rates:
    """The stated rates, in the order of the book."""

    stated: tuple[Rate, ...]

    def worth(self, currency: str, other: str) -> Fraction | None:
        """What one of `currency` is in `other`, exactly; None when no rate says so.

        A rate holds in both directions. Two currencies that are both stated against one third are worth what it makes of
        them; with several such thirds, the one whose rate stands first counts. Longer ways would be guesses.
        """
        if currency == other:
            return Fraction(1)
        direct = self._direct(currency, other)
        if direct is not None:
            return direct
        for third in self._neighbours(currency):
            first, second = self._direct(currency, third), self._direct(third, other)
            if first is not None and second is not None:
                return first * second
        return None

    def to(self, money: Money, currency: str) -> Money | None:
        """The sum in another currency: reckoned exactly, then to its least coin, halves up, as a till charges it.

        A sum that is something is never rounded to nothing: it is one coin at least. None when no rate is stated.
        """
        worth = self.worth(money.currency, currency)
        if worth is None:
            return None
        if money.currency == currency:
            return money
        exact = Fraction(money.value) * worth
        value = to_minor(exact, currency)
        return Money(minor_unit(currency) if not value and exact > 0 else value, currency)

    def _direct(self, currency: str, other: str) -> Fraction | None:
        for rate in self.stated:
            if (rate.currency, rate.other) == (currency, other):
                return rate.worth
            if (rate.other, rate.currency) == (currency, other):
                return 1 / rate.worth
        return None

    def _neighbours(self, currency: str) -> Iterator[str]:
        for rate in self.stated:
            if rate.currency == currency:
                yield rate.other
            elif rate.other == currency:
                yield rate.currency


def prices_in(book: Book, currency: str) -> tuple[tuple[Price, ...], tuple[Price, ...]]:
    """The book's prices in that currency, converted where a rate is stated; and those left out, as they are written.

    Both in the order of the rows. A converted price keeps the span of its row.
    """
    rates = Rates(book.settings.rates)
    usable: list[Price] = []
    left_out: list[Price] = []
    for price in book.prices:
        if price.price.currency == currency:
            usable.append(price)
            continue
        money = rates.to(price.price, currency)
        if money is None:
            left_out.append(price)
        else:
            usable.append(price._replace(price=money))
    return tuple(usable), tuple(left_out)
