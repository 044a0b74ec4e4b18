"""Names compared: Unicode form, case, and the singular of the last word.

One rule for food in the larder and for what a dish makes itself, so that `Lemons` and `lemon` are one thing.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType

_MOST_NAMES = 1 << 14
"""Names whose forms are remembered: a book says the same few hundred over and over. Bounded, since an editor never ends."""
_APOSTROPHES = str.maketrans({"’": "'", "ʼ": "'", "\u2010": "-", "\u2011": "-"})


@cache
def _irregular() -> Mapping[str, str]:
    rows = (Path(__file__).with_name("data") / "plurals.tsv").read_text(encoding="utf-8").splitlines()
    table: dict[str, str] = {}
    for row in rows:
        if row and not row.startswith("#"):
            plural, _, single = row.partition("\t")
            table[plural] = single
    return MappingProxyType(table)


def singular(word: str) -> str:
    """The singular of one English lower-case word, by the table of plurals and then by rule; a singular stays as it is."""
    known = _irregular().get(word)
    if known is not None:
        return known
    if len(word) < 4 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes", "toes")):
        return word[:-2]
    return word[:-1]


@cache
def _plurals() -> Mapping[str, str]:
    table: dict[str, str] = {}
    for many, one in _irregular().items():
        table.setdefault(one, many)
    return MappingProxyType(table)


def plural(word: str) -> str:
    """The plural of one English lower-case word, by the same table and then by rule."""
    known = _plurals().get(word)
    if known is not None:
        return known
    if word.endswith("y") and len(word) > 1 and word[-2] not in "aeiou":
        return f"{word[:-1]}ies"
    return f"{word}es" if word.endswith(("s", "x", "ch", "sh", "ato")) else f"{word}s"


@lru_cache(maxsize=_MOST_NAMES)
def folded(text: str) -> str:
    """NFC, lower case, plain apostrophes and hyphens, single spaces. The words stay as they are."""
    if not text.isascii():
        text = unicodedata.normalize("NFC", text).translate(_APOSTROPHES)
    return " ".join(text.lower().split())


@lru_cache(maxsize=_MOST_NAMES)
def normal_name(text: str) -> str:
    """The form by which names compare: folded, with the last word in the singular. Larder aliases come on top of this."""
    return _last_singular(folded(text))


@lru_cache(maxsize=_MOST_NAMES)
def match_key(text: str) -> str:
    """As `normal_name`, and blind to hyphens and accents as well: `crème-fraîche` is `creme fraiche`. For the larder's index."""
    words = " ".join(folded(text).replace("-", " ").split())
    if not words.isascii():
        words = "".join(mark for mark in unicodedata.normalize("NFD", words) if not unicodedata.combining(mark))
    return _last_singular(words)


def _last_singular(words: str) -> str:
    head, space, last = words.rpartition(" ")
    return f"{head}{space}{singular(last)}"
