"""Numbers as cooks write them, to exact fractions."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

LARGEST = 10**9
"""No amount in a kitchen passes this; a longer number is a slip of the keyboard (rule 14)."""

_SIDES = re.compile(r"\s?[-–—]\s?|\s+[^\W\d]+\s+")
_ONE = re.compile(
    r"(?P<whole>[0-9]*(?:[.,][0-9]+)*)\s*(?:(?P<top>[0-9]+)?\s?[/⁄]\s?(?P<bottom>[0-9]+)|(?P<vulgar>[^\W0-9]|[¼-¾⅐-↉]))?"
)
# Thousands parted by marks, and perhaps a decimal behind the other mark.
GROUPS = re.compile(r"([0-9]{1,3}([.,])[0-9]{3}(?:\2[0-9]{3})*)(?:[.,]([0-9]{1,2}))?")


class Read(NamedTuple):
    """A number or a range. `trouble` is '' or what is wrong with it: `comma`, `zero`, `huge`, `down`, `thousand`,
    `groups`, `nothing`.

    `thousand` marks a point before exactly three digits, which is wrong only before a unit; `nothing` is 0, which is wrong
    only of what is weighed or counted.
    """

    low: Fraction
    high: Fraction
    trouble: str


@lru_cache(maxsize=4096)
def read(text: str) -> Read:
    """`1 1/2`, `½`, `2.5`, `2-3`, `2 to 3` as they stand in a mark; white space around is nothing."""
    text = text.strip()
    sides = _SIDES.split(text)
    low, trouble = _one(sides[0])
    if len(sides) == 1:
        return Read(low, low, trouble or ("" if low else "nothing"))
    high, other = _one(sides[1])
    trouble = trouble or other
    if trouble in ("", "thousand") and high < low:
        return Read(high, low, "down")
    return Read(low, high, trouble or ("" if high else "nothing"))


@lru_cache(maxsize=4096)
def seconds(text: str, factor: int) -> Read:
    """A time's number in seconds; kept, since fractions are slow to multiply and the same times come up again and again."""
    low, high, trouble = read(text)
    return Read(low * factor, high * factor, trouble)


def _one(text: str) -> tuple[Fraction, str]:
    found = _ONE.fullmatch(text.strip())
    if found is None:
        return Fraction(1), "unreadable"
    whole, bottom, vulgar = found["whole"], found["bottom"], found["vulgar"]
    if len(text) > 40:
        return Fraction(1), "huge"
    if bottom is not None:
        # `1/2` has no whole part: the digits before the stroke are its top.
        top = found["top"] if found["top"] is not None else whole
        plain = whole if found["top"] is not None else ""
        if not top.isascii() or not top.isdigit():
            return Fraction(1), "unreadable"
        if int(bottom) == 0:
            return Fraction(1), "zero"
        value = Fraction(int(top), int(bottom))
    else:
        value = _vulgar(vulgar) if vulgar else Fraction(0)
        plain = whole
    trouble = ""
    if plain:
        if plain.count(",") + plain.count(".") > 1:
            groups = GROUPS.fullmatch(plain)
            if groups is None:
                return Fraction(1), "unreadable"
            value += _decimal(re.sub("[.,]", "", groups[1]), groups[3] or "")
            return value, "huge" if value > LARGEST else "groups"
        if "," in plain:
            return value + _decimal(*plain.split(",")), "comma"
        before, point, after = plain.partition(".")
        value += _decimal(before, after)
        # 0.125 can only be a decimal; 1.250 may be a thousand and more.
        if point and len(after) == 3 and before not in ("", "0"):
            trouble = "thousand"
    if value > LARGEST:
        return value, "huge"
    return value, trouble


def _decimal(before: str, after: str) -> Fraction:
    digits = before + after
    return Fraction(int(digits or "0"), 10 ** len(after))


def _vulgar(letter: str) -> Fraction:
    # The character's own name holds the exact fraction; its float value would not.
    parts = unicodedata.decomposition(letter).split()
    digits = "".join(chr(int(code, 16)) for code in parts if not code.startswith("<"))
    top, stroke, bottom = digits.partition("⁄")
    if stroke and top.isdigit() and bottom.isdigit():
        return Fraction(int(top), int(bottom)) if int(bottom) else Fraction(0)
    return Fraction(unicodedata.numeric(letter, 1)).limit_denominator(12)
