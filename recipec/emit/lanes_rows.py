"""The rows of the lanes: a pair of hands, an oven, a burner, other gear that is short, and what stands by itself."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from recipec.emit.timeline_clock import Clock
from recipec.emit.timeline_words import Words, attend_words, piece_words
from recipec.measure.language import Language
from recipec.plan.pull_list import Taken, uses
from recipec.plan.run_sheet import piece_name, task_numbers
from recipec.plan.timeline_types import Attend, Placed, Planned, Pool, PoolKind, Setting, Task

_MOST_SCARCE = 6


class Sort(StrEnum):
    """How a bar is drawn: solid, hatched, outlined, or dashed (gear that is taken while nothing is done in it)."""

    HANDS = "hands"
    REACH = "reach"
    ALONE = "alone"
    KEEP = "keep"


_SORTS = {Attend.HANDS: Sort.HANDS, Attend.REACH: Sort.REACH, Attend.ALONE: Sort.ALONE}


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar of a row: its place among bars at the same time is `level`. `number` on the run sheet, '' for none."""

    start: int
    end: int
    sort: Sort
    number: str
    what: str
    about: str
    level: int
    ticks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """`hands` rows are the ones read first; `settings` are an oven's. `ticks` are touches that a pair of hands sees to."""

    name: str
    bars: tuple[Bar, ...]
    hands: bool = False
    settings: tuple[Setting, ...] = ()
    ticks: tuple[int, ...] = ()

    @property
    def levels(self) -> int:
        """How many bars lie over one another."""
        return 1 + max((bar.level for bar in self.bars), default=0)


def rows(words: Words) -> tuple[Row, ...]:
    """All rows of a plan."""
    return tuple(_Rows(words.planned, words.clock, words.tongue).rows())


class _Rows:
    def __init__(self, planned: Planned, clock: Clock, tongue: Language) -> None:
        self.tongue = tongue
        self.problem, self.plan, self.clock = planned.problem, planned.plan, clock
        self.numbers = task_numbers(planned)
        self.uses = uses(planned)
        self.shown: set[int] = set()

    def rows(self) -> list[Row]:
        found = [*self._hands(), *self._pools(PoolKind.OVEN), *self._pools(PoolKind.BURNERS), *self._scarce()]
        found += self._rooms()
        rest = [
            self._bar(placed, ticks=True)
            for placed in self.plan.placed
            if placed.task not in self.shown and placed.end > placed.start
        ]
        return [*found, Row(self.tongue.say("standing", context="lane"), _levelled(rest))] if rest else found

    # ------------------------------------------------------------ hands

    def _hands(self) -> list[Row]:
        most = max((turn.number for turn in self.problem.hands), default=1)
        ticks = self._touches(most)
        found = []
        for number in range(1, most + 1):
            mine = [placed for placed in self.plan.placed if placed.hands == number]
            self.shown |= {placed.task for placed in mine}
            hands = self.tongue.say("hands", context="asks")
            name = hands if most == 1 else f"{hands} {number}"
            bars = _levelled([self._bar(placed) for placed in mine])
            found.append(Row(name, bars, True, (), tuple(at for at, who in ticks if who == number)))
        return [row for row in found if row.bars or row.ticks] or found[:1]

    def _touches(self, most: int) -> list[tuple[int, int]]:
        """Each touch with the first pair of hands that is free for it."""
        busy: list[tuple[int, int, int]] = [
            (placed.start, placed.end, placed.hands) for placed in self.plan.placed if placed.hands
        ]
        touches = sorted(
            (placed.start + offset, self.problem.tasks[placed.task].touch_s)
            for placed in self.plan.placed
            for offset in self.problem.tasks[placed.task].touches
        )
        found = []
        for at, seconds in touches:
            taken = {who for start, end, who in busy if start < at + seconds and at < end}
            who = next((one for one in range(1, most + 1) if one not in taken), 1)
            busy.append((at, at + seconds, who))
            found.append((at, who))
        return found

    # ------------------------------------------------------------ gear

    def _pools(self, kind: PoolKind) -> list[Row]:
        return [
            row
            for number, pool in enumerate(self.problem.pools)
            if pool.kind is kind
            for row in self._units(number, pool)
        ]

    def _units(self, number: int, pool: Pool) -> list[Row]:
        found = []
        for unit in range(pool.number):
            mine = [use for use in self.uses if use.pool == number and unit in use.units and use.end > use.start]
            settings = tuple(one for one in self.plan.settings if (one.pool, one.oven) == (number, unit))
            if mine or settings:
                piece = piece_words(piece_name(pool), self.tongue)
                name = f"{piece} {unit + 1}" if pool.number > 1 else piece
                found.append(Row(name, _levelled(self._taken(mine)), False, settings))
        return found

    def _scarce(self) -> list[Row]:
        """Gear of which all is in use at some time, and which more than one thing wants."""
        found: list[Row] = []
        for number, pool in enumerate(self.problem.pools):
            mine = [use for use in self.uses if use.pool == number and use.end > use.start]
            if pool.kind is PoolKind.GEAR and len(mine) > 1 and self._peak(mine) >= pool.number:
                found += self._units(number, pool)
        return found[:_MOST_SCARCE]

    def _peak(self, taken: list[Taken]) -> int:
        return max(
            len({unit for use in taken if use.start <= at < use.end for unit in use.units})
            for at in {use.start for use in taken}
        )

    def _rooms(self) -> list[Row]:
        found = []
        for number, pool in enumerate(self.problem.pools):
            if pool.kind is PoolKind.SPACE:
                mine = [use for use in self.uses if use.pool == number and use.end > use.start]
                bars = _levelled(self._taken(mine))
                if bars:
                    found.append(Row(pool.name, bars))
        return found

    def _taken(self, taken: list[Taken]) -> list[Bar]:
        found = []
        for use in taken:
            if use.task is None:
                about = f"{use.what}, {self.clock.time(use.start)}–{self.clock.time(use.end)}"
                found.append(Bar(use.start, use.end, Sort.KEEP, "", use.what, about, 0))
            else:
                self.shown.add(use.task)
                found.append(self._bar(self.plan.placed[use.task], ticks=True))
        return _between(found)

    def _bar(self, placed: Placed, *, ticks: bool = False) -> Bar:
        task = self.problem.tasks[placed.task]
        number = self.numbers.get(placed.task, 0)
        touches = tuple(placed.start + offset for offset in task.touches) if ticks else ()
        return Bar(
            placed.start, placed.end, _SORTS[task.attend], str(number or ""), task.what or task.text, self._about(task, placed),
            0, touches,
        )  # fmt: skip

    def _about(self, task: Task, placed: Placed) -> str:
        title = "" if task.run is None else f" ({self.problem.runs[task.run].title})"
        times = f"{self.clock.time(placed.start)}–{self.clock.other_day(placed.end, placed.start)}"
        return f"{task.what or task.text}{title}, {times}, {attend_words(task.attend, self.tongue)}"


def _between(bars: list[Bar]) -> list[Bar]:
    """Gear that is kept is drawn only while nothing is done in it."""
    done = sorted((bar.start, bar.end) for bar in bars if bar.number)
    found = [bar for bar in bars if bar.number]
    for bar in bars:
        if bar.number:
            continue
        at = bar.start
        for start, end in (*done, (bar.end, bar.end)):
            if start > at and at < bar.end:
                found.append(Bar(at, min(start, bar.end), bar.sort, "", bar.what, bar.about, 0))
            at = max(at, end)
    return found


def _levelled(bars: list[Bar]) -> tuple[Bar, ...]:
    """Bars that overlap, over one another; those that are done before those that only stand."""
    ends: list[int] = []
    found = []
    for bar in sorted(bars, key=lambda one: (one.start, one.sort is Sort.KEEP, -one.end, one.number)):
        level = next((place for place, end in enumerate(ends) if end <= bar.start), len(ends))
        ends[level : level + 1] = [bar.end]
        found.append(Bar(bar.start, bar.end, bar.sort, bar.number, bar.what, bar.about, level, bar.ticks))
    return tuple(found)
