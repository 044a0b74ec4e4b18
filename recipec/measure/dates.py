"""Days and times of day as a language writes them, by CLDR (Babel). The clock has 24 hours everywhere: a kitchen's does."""

from __future__ import annotations

import re
from datetime import date, datetime
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel import Locale

_PLAIN_ENGLISH = "en-150"
"""English with the day before the month (CLDR: English as written in Europe), for a book that only says `en`."""


@cache
def _locale(language: str) -> Locale:
    """English for a language CLDR does not know."""
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(_PLAIN_ENGLISH if language == "en" else language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(_PLAIN_ENGLISH, sep="-")


def day_words(day: date, language: str = "en") -> str:
    """`Saturday 17 October 2026`, `Samstag, 17. Oktober 2026`."""
    from babel.dates import format_date

    text: str = format_date(day, "full", locale=_locale(language))
    return text.replace(",", "") if language == "en" else text


def day_short(day: date, language: str = "en") -> str:
    """`Sat 17 Oct`, `Sa., 17. Okt.`"""
    from babel.dates import format_skeleton

    text: str = format_skeleton("MMMEd", day, locale=_locale(language))
    return text.replace(",", "") if language == "en" else text


def clock_words(moment: datetime, language: str = "en") -> str:
    """`09:30`, and `09.30` where a language writes it so: always as wide, so that times stand under one another."""
    return f"{moment.hour:02}{_between(language)}{moment.minute:02}"


@cache
def _between(language: str) -> str:
    """What parts hours from minutes. English needs no table, and loads none."""
    if language == "en" or language.startswith("en-"):
        return ":"
    found = re.search("H([^Hm]*)m", _locale(language).datetime_skeletons["Hm"].pattern)
    return ":" if found is None else found[1].replace("'", "")
