"""Numbers and currency codes as people keep them in a table: `1,234.50` in an English one, `1.234,50` in a German one."""

from __future__ import annotations

import re
from decimal import Decimal

LANGUAGES = ("en", "en-GB", "en-US", "de", "fr")
"""Languages whose way of writing numbers a book may follow."""

_WHOLE = re.compile(r"[0-9]{1,12}")
_ENGLISH = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,4})?")
# Nothing else reaches the library, which would also take `NaN` and `1e5` for numbers.
_ANY = re.compile(r"(?:[0-9][0-9.,'’ \u00a0\u202f]{0,30})?[0-9]")
_SPACES = re.compile("(?<=[0-9])[ \u00a0\u202f](?=[0-9]{3}(?![0-9]))")
_USUAL = frozenset("AUD CAD CHF DKK EUR GBP JPY NOK NZD SEK USD".split())


def decimal_of(text: str, language: str = "en") -> Decimal | None:
    """The number as that language writes it, exactly; None when it is none there, a sign or an exponent included.

    A space, breaking or not, parts thousands where CLDR has any space do it. Plain English numbers load no library.
    """
    if _WHOLE.fullmatch(text) or (_english(language) and _ENGLISH.fullmatch(text)):
        return Decimal(text)
    if not _ANY.fullmatch(text):
        return None
    from babel.numbers import NumberFormatError, get_group_symbol, parse_decimal

    locale = language.replace("-", "_")
    group = get_group_symbol(locale)
    if group.isspace():
        text = _SPACES.sub(group, text)
    try:
        return parse_decimal(text, locale=locale, strict=True)
    except NumberFormatError:
        return None


def meant_by(text: str, language: str) -> Decimal | None:
    """What a number that is none in this language would be in one with the other decimal mark; None when it is none there either."""
    return decimal_of(text, "de" if _english(language) else "en")


def written(value: Decimal, language: str) -> str:
    """A number as the language writes it, without marks between thousands: `2.40`, `2,40`."""
    text = f"{value:f}"
    return text if _english(language) else text.replace(".", ",")


def is_currency(code: str) -> bool:
    """Whether three capitals are a currency of ISO 4217, as CLDR lists them; the usual ones load no library."""
    if code in _USUAL:
        return True
    if not re.fullmatch("[A-Z]{3}", code):
        return False
    from babel.numbers import is_currency as listed

    return listed(code)


def _english(language: str) -> bool:
    return language == "en" or language.startswith("en-")
