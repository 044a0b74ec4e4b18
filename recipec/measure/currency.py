"""Currencies by CLDR (Babel): the least coin, and sums in words."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel import Locale

_CODE = re.compile(r"([^\W\d_])(?=\d)")


@cache
def minor_unit(currency: str) -> Decimal:
    """The least sum that is reckoned in: 0.01 of a pound, 1 yen, 0.001 dinar; a hundredth for codes CLDR does not know."""
    from babel.numbers import get_currency_precision

    return Decimal(1).scaleb(-get_currency_precision(currency))


def in_coins(value: Decimal, currency: str) -> str:
    """A sum in digits alone, for scripts and for text a cook writes: `12.40`, `193` of yen. More decimals than the coins have are kept."""
    coin = minor_unit(currency)
    return f"{value.quantize(coin) if value == value.quantize(coin) else value:f}"


@cache
def _locale(language: str) -> Locale:
    """English for a language CLDR does not know."""
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale("en")


def to_minor(value: Fraction, currency: str) -> Decimal:
    """An exact sum to the least coin, halves up."""
    coin = minor_unit(currency)
    return math.floor(value / Fraction(coin) + Fraction(1, 2)) * coin


@lru_cache(maxsize=4096)
def money_words(value: Decimal, currency: str, language: str = "en") -> str:
    """`£12.40`, `12,40 €`, `CHF 12.40`, as the language writes it. More decimals than the coins have are kept."""
    from babel.numbers import format_currency

    locale = _locale(language)
    whole = value == value.quantize(minor_unit(currency))
    text = format_currency(value, currency, locale=locale, currency_digits=whole, decimal_quantization=whole)
    # CLDR parts a code of letters from the digits beside it (currencySpacing); Babel leaves that out.
    return _CODE.sub("\\1\u00a0", text)


def share_out(total: Decimal, weights: tuple[Fraction, ...], currency: str) -> tuple[Decimal, ...]:
    """`total`, whole coins, shared by weight so that the shares add up to it exactly: each is its exact share rounded down, and the coins
    left go to the largest remainders, earlier ones first. All nothing when the weights are.

    Raises ValueError for a negative weight or for a total that is no whole number of coins: the caller's mistake.
    """
    coin = minor_unit(currency)
    coins = total / coin
    if coins != coins.to_integral_value() or any(weight < 0 for weight in weights):
        raise ValueError("only whole coins are shared, by weights of nothing or more")
    whole, number = sum(weights, Fraction(0)), int(coins)
    if not whole:
        return tuple(Decimal(0) * coin for _ in weights)
    exact = [number * weight / whole for weight in weights]
    floors = [share.numerator // share.denominator for share in exact]
    order = sorted(range(len(weights)), key=lambda place: (floors[place] - exact[place], place))
    for place in order[: number - sum(floors)]:
        floors[place] += 1
    return tuple(floor * coin for floor in floors)


def percent_words(part: Fraction, language: str = "en", *, aligned: bool = False) -> str:
    """A part as `24.4%`, `24,4 %`, as the language writes it: one decimal at most, always one when `aligned` in a column."""
    from babel.numbers import format_percent

    locale = _locale(language)
    pattern = locale.percent_formats[None].pattern
    tenths = Decimal(math.floor(part * 1000 + Fraction(1, 2))).scaleb(-3)
    return format_percent(tenths, format=pattern.replace("0", "0.0" if aligned else "0.#", 1), locale=locale)
