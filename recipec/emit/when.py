"""Days and times in words, the same on every machine. English needs no tables; other languages have theirs from CLDR."""

from __future__ import annotations

from datetime import date, datetime

from recipec.measure.dates import clock_words, day_short, day_words
from recipec.measure.language import language_of

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day_text(day: date, language: str = "en") -> str:
    """`Saturday 17 October 2026`."""
    if language != "en":
        return day_words(day, language)
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]} {day.year}"


def weekday_text(day: date, language: str = "en") -> str:
    """`Sat`; in other languages with the day of the month, as CLDR has it: `Sa., 17. Okt.`"""
    return _DAYS[day.weekday()][:3] if language == "en" else day_short(day, language)


def clock_text(moment: datetime, language: str = "en") -> str:
    """`19:30`."""
    return clock_words(moment, language)


def moment_text(moment: datetime, language: str = "en") -> str:
    """`Saturday 17 October 2026, 19:30`."""
    return f"{day_text(moment, language)}, {clock_text(moment, language)}"


def window_text(start: datetime, end: datetime, language: str = "en") -> str:
    """`Friday 16 October 2026, 15:00–18:00`, or both days in full."""
    if start.date() == end.date():
        return f"{moment_text(start, language)}–{clock_text(end, language)}"
    ends = {"start": moment_text(start, language), "end": moment_text(end, language)}
    return language_of(language).say("%(start)s to %(end)s", **ends)
