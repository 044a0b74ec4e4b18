"""The lanes with time running to the right: for wide screens and for A4 laid across."""

from __future__ import annotations

from recipec.emit.lanes_draw import LETTERS, Axis, Box, Drawing, Label, after, cut_to, in_strip, levels_in, number, wide
from recipec.emit.lanes_rows import Bar, Row, Sort
from recipec.emit.lanes_time import Strip
from recipec.emit.timeline_clock import Clock
from recipec.plan.timeline_types import CourseAt, Setting

WIDTH = 1120
_NAMES = 104
_CUT = 22
_BAR = 20
_LEVEL = 24
_BELOW = 15
_DIAL = 26
_HEAD = 40
_RIGHT = 8
_FLAG = 220
_TOP_HEAT = 2600
"""Tenths of a degree at the top of an oven's line."""


class WideStrip:
    """One strip. `longest` is the length in seconds of the longest, so that all are drawn to one scale."""

    def __init__(
        self, strip: Strip, rows: tuple[Row, ...], courses: tuple[CourseAt, ...], clock: Clock, longest: int
    ) -> None:
        self.strip, self.courses, self.clock = strip, courses, clock
        room = WIDTH - _NAMES - _RIGHT - _CUT * (len(strip.parts) - 1)
        self.axis = Axis(strip, _NAMES, room / max(longest, strip.seconds), _CUT)
        self.rows = in_strip(strip, rows)
        self.out = Drawing(WIDTH, 0, "")
        self.below: float = 0

    def draw(self) -> Drawing:
        y: float = _HEAD
        tops = []
        for row in self.rows:
            tops.append(y)
            y += self._height(row)
        foot = y
        self._hours(foot)
        for row, top in zip(self.rows, tops, strict=True):
            self._row(row, top)
        self._flags(foot)
        for cut in self.axis.cuts():
            zigzag = [
                (cut + (4 if place % 2 else -4), _HEAD - 6 + place * 6)
                for place in range(int((foot - _HEAD + 12) // 6) + 1)
            ]
            self.out.boxes.append(Box(cut - 7, _HEAD - 8, 14, foot - _HEAD + 12, "gap"))
            self.out.line("cut", *zigzag)
        self.out.height = foot + 8
        return self.out

    def _height(self, row: Row) -> float:
        return (
            len(levels_in(self.axis, row)) * _LEVEL + (_DIAL if row.settings else 0) + (_BELOW if row.hands else 0) + 4
        )

    # ------------------------------------------------------------ the ground

    def _hours(self, foot: float) -> None:
        day = None
        for at in self.axis.every(900):
            x = self.axis.at(at)
            if x is None:
                continue
            hour = at % 3600 == 0
            self.out.line("hour" if hour else "quarter", (x, _HEAD - (6 if hour else 3)), (x, foot))
            if hour and x + 20 < WIDTH:
                self.out.labels.append(Label(x, _HEAD - 10, self.clock.time(at), "clock", "middle"))
        for part in self.strip.parts:
            start = self.axis.at(part.start)
            today = self.clock.short_day(part.start)
            if start is not None and today != day:
                self.out.labels.append(Label(start if day else 0, 12 if day else _HEAD - 10, today, "day"))
            day = today

    def _flags(self, foot: float) -> None:
        free = [0.0, 0.0]
        for course in sorted(self.courses, key=lambda one: one.at):
            x = self.axis.at(course.at)
            if x is None:
                continue
            for left, right, _, _ in self.axis.pieces(course.at, course.ends):
                self.out.boxes.append(Box(left, _HEAD - 6, right - left, 4, "course"))
            text = f"{cut_to(course.name, _FLAG)} {self.clock.time(course.at)}"
            level = 0 if free[0] <= x else 1
            end = x + 6 + wide(text)
            y = 12 if level == 0 else 25
            self.out.line("course", (x, y - 10), (x, foot + 4))
            if end > WIDTH:
                self.out.labels.append(Label(x - 4, y, text, "flag", "end"))
            else:
                self.out.labels.append(Label(x + 4, y, text, "flag"))
            free[level] = end

    # ------------------------------------------------------------ rows

    def _row(self, row: Row, top: float) -> None:
        foot = top + self._height(row)
        self.out.line("row", (0, foot - 1), (WIDTH - _RIGHT, foot - 1))
        middle = top + (_DIAL if row.settings else 0) + _LEVEL / 2 + 4
        self.out.labels.append(Label(0, middle, cut_to(row.name, _NAMES - 8), "row"))
        y = top
        if row.settings:
            self._dial(row.settings, y)
            y += _DIAL
        levels = levels_in(self.axis, row)
        self.below = 0
        for bar in row.bars:
            if bar.level in levels:
                self._bar(row, bar, y + 2 + levels[bar.level] * _LEVEL)
        for at in row.ticks:
            x = self.axis.at(at)
            if x is not None:
                self._tick(x, y + 2)

    def _dial(self, settings: tuple[Setting, ...], top: float) -> None:
        base = top + _DIAL - 1
        for setting in settings:
            level = base - min(setting.celsius, _TOP_HEAT) / _TOP_HEAT * 11
            for left, right, before, _ in self.axis.pieces(setting.lit, setting.start):
                self.out.line("heating", (left, level if before else base), (right, level))
            for place, (left, right, _, _) in enumerate(self.axis.pieces(setting.start, setting.end)):
                self.out.line("heat", (left, level), (right, level))
                if place == 0:
                    self.out.labels.append(Label(left, level - 3, f"{number(setting.celsius / 10)} °C", "heat"))

    def _bar(self, row: Row, bar: Bar, y: float) -> None:
        pieces = self.axis.pieces(bar.start, bar.end)
        for left, right, before, later in pieces:
            self.out.boxes.append(Box(left, y, max(right - left, 1.5), _BAR, bar.sort.value, bar.about))
            for open_, edge in ((before, left), (later, right)):
                if open_:
                    self.out.line("open", (edge, y), (edge, y + _BAR))
        if pieces:
            left, right, _, _ = max(pieces, key=lambda one: one[1] - one[0])
            self._name(row, bar, left, right, y)
        for at in bar.ticks:
            x = self.axis.at(at)
            if x is not None:
                self._tick(x, y)

    def _tick(self, x: float, y: float) -> None:
        self.out.line("touch", (x, y - 2), (x, y + _BAR + 2))
        self.out.line("touch", (x - 3, y - 2), (x + 3, y - 2))

    def _name(self, row: Row, bar: Bar, left: float, right: float, y: float) -> None:
        """The name inside where it fits, else behind; else its number, inside, behind or below."""
        base = y + _BAR / 2 + LETTERS * 0.35
        whole = f"{bar.number} {bar.what}".strip()
        inside, behind = right - left - 6, after(self.axis, row, bar, right) - right - 6
        on = f"on-{bar.sort.value}"
        if wide(whole) <= inside:
            self._say(left + 3, base, whole, on)
        elif wide(whole) <= behind:
            self._say(right + 3, base, whole, "beside")
        elif (short := cut_to(whole, max(inside, behind))) and len(short) > len(bar.number) + 3:
            self._say((left if inside >= behind else right) + 3, base, short, on if inside >= behind else "beside")
        elif bar.number and wide(bar.number) <= inside + 4:
            self._say((left + right) / 2, base, bar.number, on, "middle")
        elif bar.number and wide(bar.number) <= behind + 2:
            self._say(right + 2, base, bar.number, "beside")
        elif bar.number and row.hands and left >= self.below:
            self._say(left, y + _BAR + 12, bar.number, "beside")
            self.below = left + wide(bar.number) + 3

    def _say(self, x: float, y: float, text: str, sort: str, anchor: str = "start") -> None:
        if sort != f"on-{Sort.KEEP.value}" or text:
            self.out.labels.append(Label(x, y, text, sort, anchor))
