"""The lanes with time running down: for telephones and small sheets."""

from __future__ import annotations

from recipec.emit.lanes_draw import Axis, Box, Drawing, Label, cut_to, in_strip, levels_in, number, wide
from recipec.emit.lanes_rows import Bar, Row
from recipec.emit.lanes_time import Strip
from recipec.emit.timeline_clock import Clock
from recipec.plan.timeline_types import CourseAt, Setting

WIDTH = 350
_CLOCK = 44
_NAMES = 112
_CUT = 26
_A_MINUTE = 3
_LINE = 13
_HANDS, _OVEN, _OTHER = 3.0, 1.7, 1.0
"""Shares of the width."""
_DIAL = 0.55
_NARROW = 44


class TallStrip:
    """One strip."""

    def __init__(self, strip: Strip, rows: tuple[Row, ...], courses: tuple[CourseAt, ...], clock: Clock) -> None:
        self.strip, self.courses, self.clock = strip, courses, clock
        self.axis = Axis(strip, _NAMES + 8, _A_MINUTE / 60, _CUT)
        self.rows = in_strip(strip, rows)
        self.out = Drawing(WIDTH, 0, "")

    def draw(self) -> Drawing:
        foot = self.axis.end
        shares = [self._share(row) for row in self.rows]
        each = (WIDTH - _CLOCK) / max(sum(shares), 1)
        self._hours(foot)
        x: float = _CLOCK
        for row, share in zip(self.rows, shares, strict=True):
            self._column(row, x, share * each, foot)
            x += share * each
        for cut in self.axis.cuts():
            zigzag = [(place * 6, cut + (4 if place % 2 else -4)) for place in range(WIDTH // 6 + 1)]
            self.out.boxes.append(Box(0, cut - 7, WIDTH, 14, "gap"))
            self.out.line("cut", *zigzag)
        self._days()
        self._flags()
        self.out.height = foot + 10
        return self.out

    def _share(self, row: Row) -> float:
        levels = max(len(levels_in(self.axis, row)), 1)
        if row.hands:
            return _HANDS * (1 if levels == 1 else 1.4)
        return levels * (_OVEN if row.settings else _OTHER) + (_DIAL if row.settings else 0)

    # ------------------------------------------------------------ the ground

    def _hours(self, foot: float) -> None:
        for at in self.axis.every(900):
            y = self.axis.at(at)
            if y is None:
                continue
            hour = at % 3600 == 0
            self.out.line("hour" if hour else "quarter", (_CLOCK - 5, y), (WIDTH, y))
            if hour or at % 1800 == 0:
                self.out.labels.append(Label(0, y + 4, self.clock.time(at), "clock"))

    def _days(self) -> None:
        day = None
        for part in self.strip.parts:
            y = self.axis.at(part.start)
            today = self.clock.short_day(part.start)
            if y is not None and day is None:
                self.out.labels.append(Label(0, 14, today, "day"))
            elif y is not None and today != day:
                self.out.labels.append(Label(WIDTH / 2, y - _CUT / 2 + 4, today, "day", "middle"))
            day = today

    def _flags(self) -> None:
        for course in self.courses:
            for left, right, _, _ in self.axis.pieces(course.at, course.ends):
                self.out.boxes.append(Box(_CLOCK - 5, left, 4, right - left, "course"))
            y = self.axis.at(course.at)
            if y is not None:
                self.out.line("course", (0, y), (WIDTH, y))
                text = f"{cut_to(course.name, WIDTH - 100)} {self.clock.time(course.at)}"
                # On a ground of its own, or the bars beneath would swallow it.
                self.out.boxes.append(Box(WIDTH - wide(text) - 10, y + 1, wide(text) + 10, 15, "plate"))
                self.out.labels.append(Label(WIDTH - 4, y + 13, text, "flag", "end"))

    # ------------------------------------------------------------ columns

    def _column(self, row: Row, x: float, width: float, foot: float) -> None:
        self.out.line("row", (x, 20), (x, foot))
        if wide(row.name) <= width - 4:
            self.out.labels.append(Label(x + 4, _NAMES - 4, row.name, "row"))
        else:
            self.out.labels.append(Label(x + width / 2 - 4, 22, cut_to(row.name, _NAMES - 26), "row", "start", True))
        levels = levels_in(self.axis, row)
        left = x
        if row.settings:
            dial = width * _DIAL / self._share(row)
            self._dial(row.settings, x, dial)
            left += dial
        each = (x + width - left) / max(len(levels), 1)
        for bar in row.bars:
            if bar.level in levels:
                self._bar(bar, left + 1 + levels[bar.level] * each, each - 2)
        for at in row.ticks:
            y = self.axis.at(at)
            if y is not None:
                self._tick(left + 1, left + each - 1, y)

    def _dial(self, settings: tuple[Setting, ...], x: float, width: float) -> None:
        for setting in settings:
            level = x + width - 4
            for top, bottom, before, _ in self.axis.pieces(setting.lit, setting.start):
                self.out.line("heating", (level if before else x + 2, top), (level, bottom))
            for place, (top, bottom, _, _) in enumerate(self.axis.pieces(setting.start, setting.end)):
                self.out.line("heat", (level, top), (level, bottom))
                text = f"{number(setting.celsius / 10)} °C"
                if place == 0 and bottom - top > wide(text):
                    self.out.labels.append(Label(x + 1, top + 2, text, "heat", "start", True))

    def _bar(self, bar: Bar, x: float, width: float) -> None:
        pieces = self.axis.pieces(bar.start, bar.end)
        for top, bottom, before, later in pieces:
            self.out.boxes.append(Box(x, top, width, max(bottom - top, 1.5), bar.sort.value, bar.about))
            for open_, edge in ((before, top), (later, bottom)):
                if open_:
                    self.out.line("open", (x, edge), (x + width, edge))
        if pieces:
            top, bottom, _, _ = max(pieces, key=lambda one: one[1] - one[0])
            self._name(bar, x, top, width, bottom - top)
        for at in bar.ticks:
            y = self.axis.at(at)
            if y is not None:
                self._tick(x, x + width, y)

    def _tick(self, left: float, right: float, y: float) -> None:
        self.out.line("touch", (left - 1, y), (right + 1, y))
        self.out.line("touch", (left - 1, y - 3), (left - 1, y + 3))

    def _name(self, bar: Bar, x: float, top: float, width: float, height: float) -> None:
        """The name in lines where the bar is broad, along it where it is narrow; else its number."""
        on = f"on-{bar.sort.value}"
        whole = f"{bar.number} {bar.what}".strip()
        if width >= _NARROW and height >= _LINE:
            lines = _lines(whole, width - 5, int((height - 1) // _LINE))
            for place, line in enumerate(lines):
                self.out.labels.append(Label(x + 3, top + 11 + place * _LINE, line, on))
            return
        along = cut_to(whole, height - 6)
        if width >= _LINE and along and (along == whole or len(along) > len(bar.number) + 4):
            self.out.labels.append(Label(x + width / 2 - 4, top + 3, along, on, "start", True))
        elif bar.number and height >= 10 and wide(bar.number) <= width:
            self.out.labels.append(Label(x + width / 2, top + height / 2 + 4, bar.number, on, "middle"))
        elif bar.number and width >= _LINE and height >= wide(bar.number):
            self.out.labels.append(
                Label(x + width / 2 - 4, top + height / 2 - wide(bar.number) / 2, bar.number, on, "start", True)
            )


def _lines(text: str, room: float, most: int) -> list[str]:
    """Words in at most so many lines; the last one cut when they are too many."""
    lines: list[str] = []
    words = text.split()
    while words and len(lines) < most:
        line = words.pop(0)
        while words and wide(f"{line} {words[0]}") <= room:
            line = f"{line} {words.pop(0)}"
        lines.append(line)
    if words and lines:
        lines[-1] = f"{lines[-1]} {words[0]}"
    return [line if wide(line) <= room else cut_to(line, room) or line[:3] for line in lines]
