"""Numbers as a cook reads them: vulgar fractions, plain decimals, ranges."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType

NO_BREAK = "\u00a0"
"""Between a number and its unit, so that no line ends there."""

VULGAR: Mapping[Fraction, str] = MappingProxyType(
    {
        Fraction(*pair): sign
        for pair, sign in (
            ((1, 8), "⅛"),
            ((1, 6), "⅙"),
            ((1, 5), "⅕"),
            ((1, 4), "¼"),
            ((1, 3), "⅓"),
            ((3, 8), "⅜"),
            ((2, 5), "⅖"),
            ((1, 2), "½"),
            ((3, 5), "⅗"),
            ((5, 8), "⅝"),
            ((2, 3), "⅔"),
            ((3, 4), "¾"),
            ((4, 5), "⅘"),
            ((5, 6), "⅚"),
            ((7, 8), "⅞"),
        )
    }
)

_PLACES = 3
_MOST_NUMBERS = 1 << 12
"""Numbers whose text is remembered: a book has few of them, and exact fractions are slow to take apart."""


@lru_cache(maxsize=_MOST_NUMBERS)
def mixed(value: Fraction) -> str:
    """`1½`, `¾`, `2`; a fraction without a sign of its own as `1 5/16`."""
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    sign = VULGAR.get(part)
    if sign is not None:
        return f"{whole or ''}{sign}"
    return f"{whole} {part}" if whole else str(part)


@lru_cache(maxsize=_MOST_NUMBERS)
def decimal(value: Fraction, mark: str = ".") -> str:
    """`1.25`, `0.4`, `230`: exact where three decimals can, and otherwise by fraction: `1⅓`."""
    scaled = value * 10**_PLACES
    if scaled.denominator != 1:
        return mixed(value)
    whole, part = divmod(int(scaled), 10**_PLACES)
    decimals = f"{part:0{_PLACES}d}".rstrip("0")
    return f"{whole}{mark}{decimals}" if decimals else str(whole)


def span(low: str, high: str) -> str:
    """`2–3`; with blanks round the dash where an end has a unit of its own (`45 min – 1 h`); one number when both are alike."""
    if low == high:
        return low
    dash = " – " if NO_BREAK in low or NO_BREAK in high else "–"
    return f"{low}{dash}{high}"
