"""Days and times in words, the same on every machine."""

from __future__ import annotations

from datetime import date, datetime

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day_text(day: date) -> str:
    """`Saturday 17 October 2026`."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]} {day.year}"


def clock_text(moment: datetime) -> str:
    """`19:30`."""
    return f"{moment.hour:02}:{moment.minute:02}"


def moment_text(moment: datetime) -> str:
    """`Saturday 17 October 2026, 19:30`."""
    return f"{day_text(moment)}, {clock_text(moment)}"


def window_text(start: datetime, end: datetime) -> str:
    """`Friday 16 October 2026, 15:00–18:00`, or both days in full."""
    if start.date() == end.date():
        return f"{moment_text(start)}–{clock_text(end)}"
    return f"{moment_text(start)} to {moment_text(end)}"
