"""Seconds of a plan as the days and times that a cook reads."""

from __future__ import annotations

from datetime import datetime, timedelta

from recipec.measure.dates import clock_words, day_short, day_words
from recipec.plan.timeline_types import Problem


class Clock:
    """Seconds of a problem as local times, and in a language."""

    def __init__(self, problem: Problem, language: str) -> None:
        self.origin = problem.origin
        self.language = language

    def moment(self, second: int) -> datetime:
        """Local time, without a zone."""
        return self.origin + timedelta(seconds=second)

    def time(self, second: int) -> str:
        """`19:30`."""
        return clock_words(self.moment(second), self.language)

    def day(self, second: int) -> str:
        """`Saturday 17 October 2026`."""
        return day_words(self.moment(second).date(), self.language)

    def short_day(self, second: int) -> str:
        """`Sat 17 Oct`."""
        return day_short(self.moment(second).date(), self.language)

    def other_day(self, second: int, seen_from: int) -> str:
        """`19:30`, and the day with it where that is another one."""
        same = self.moment(second).date() == self.moment(seen_from).date()
        return self.time(second) if same else f"{self.short_day(second)} {self.time(second)}"
