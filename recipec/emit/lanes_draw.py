"""What the two drawings of the lanes share: shapes, and how long words are.

Coordinates are units of the drawing's own `viewBox`; letters are `LETTERS` units high, so that a drawing shown at its natural
width has letters of that many pixels.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from recipec.emit.lanes_rows import Bar, Row
from recipec.emit.lanes_time import Part, Strip

LETTERS = 12
_ADVANCE = 0.55
"""Mean width of a letter of a humanist sans in ems, a little over."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle. `sort` is its class; `about` what it says when pointed at."""

    x: float
    y: float
    width: float
    height: float
    sort: str
    about: str = ""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points, as SVG writes them."""

    points: str
    sort: str


@dataclass(frozen=True, slots=True)
class Label:
    """Words. `turned` by a quarter, reading down; `anchor` start, middle or end."""

    x: float
    y: float
    text: str
    sort: str = ""
    anchor: str = "start"
    turned: bool = False


@dataclass
class Drawing:
    """One strip, drawn. `name` says which hours it shows."""

    width: float
    height: float
    name: str
    boxes: list[Box] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def line(self, sort: str, *points: tuple[float, float]) -> None:
        """A line through points."""
        self.strokes.append(Stroke(" ".join(f"{number(x)},{number(y)}" for x, y in points), sort))


def number(value: float) -> str:
    """A coordinate: to a tenth, with no idle nought."""
    return f"{value:.1f}".removesuffix(".0")


def wide(text: str, letters: float = LETTERS) -> float:
    """About how wide words are."""
    return sum(
        0 if unicodedata.category(char) in ("Mn", "Me", "Cf") else 2 * _ADVANCE if unicodedata.east_asian_width(char) in "WF" else _ADVANCE
        for char in text
    ) * letters  # fmt: skip


def cut_to(text: str, room: float) -> str:
    """Words cut to a width, with an ellipsis; '' when not even a few letters fit."""
    if wide(text) <= room:
        return text
    while text and wide(text + "…") > room:
        text = text[:-1]
    return text.rstrip() + "…" if len(text) > 3 else ""


class Axis:
    """Seconds along a strip. `scale` units a second; a cut takes `gap` units."""

    def __init__(self, strip: Strip, start: float, scale: float, gap: float) -> None:
        self.strip, self.first, self.scale, self.gap = strip, start, scale, gap

    @property
    def end(self) -> float:
        """Where the strip ends."""
        return self._at(len(self.strip.parts) - 1, self.strip.parts[-1].end)

    def pieces(self, start: int, end: int) -> list[tuple[float, float, bool, bool]]:
        """What of [start, end) is in the strip: from, to, and whether it goes on before and after. A moment has no length."""
        found = []
        for place, part in enumerate(self.strip.parts):
            inside = max(start, part.start), min(end, part.end)
            if inside[0] < inside[1] or (start == end and self._holds(place, start)):
                found.append(
                    (self._at(place, inside[0]), self._at(place, inside[1]), start < part.start, end > part.end)
                )
        return found

    def at(self, second: int) -> float | None:
        """Where a moment is; None when it is not in the strip."""
        return next(
            (self._at(place, second) for place in range(len(self.strip.parts)) if self._holds(place, second)), None
        )

    def cuts(self) -> list[float]:
        """The middle of every cut."""
        return [self._at(place, part.start) - self.gap / 2 for place, part in enumerate(self.strip.parts) if place]

    def every(self, step: int) -> list[int]:
        """Every so many seconds, from midnight."""
        return [at for part in self.strip.parts for at in range(part.start + -part.start % step, part.end + 1, step)]

    def _holds(self, place: int, second: int) -> bool:
        part = self.strip.parts[place]
        last = place == len(self.strip.parts) - 1
        return part.start <= second < part.end or (
            second == part.end and (last or self.strip.parts[place + 1].start != second)
        )

    def _at(self, place: int, second: int) -> float:
        part: Part = self.strip.parts[place]
        return self.first + (part.at + second - part.start) * self.scale + place * self.gap


def in_strip(strip: Strip, rows: Iterable[Row]) -> list[Row]:
    """The rows with something in the strip."""

    def seen(start: int, end: int) -> bool:
        return any(start < part.end and part.start < end for part in strip.parts)

    return [
        row
        for row in rows
        if any(seen(bar.start, bar.end) for bar in row.bars)
        or any(seen(one.lit, one.end) for one in row.settings)
        or any(seen(at, at + 1) for at in row.ticks)
    ]


def levels_in(axis: Axis, row: Row) -> dict[int, int]:
    """The levels of a row that are used in a strip, closed up."""
    used = sorted({bar.level for bar in row.bars if axis.pieces(bar.start, bar.end)})
    return {level: place for place, level in enumerate(used)}


def after(axis: Axis, row: Row, bar: Bar, end: float) -> float:
    """Where, behind a bar, the next one of its level begins, or the strip ends."""
    starts = [
        piece[0]
        for other in row.bars
        if other.level == bar.level and other is not bar
        for piece in axis.pieces(other.start, other.end)
    ]
    stops = [cut - axis.gap / 2 for cut in axis.cuts()]
    return min((start for start in (*starts, *stops) if start >= end - 0.01), default=axis.end)


Times = Callable[[int], str]
"""Words for a moment's clock."""
